package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/score"
)

func TestABarThatComesAgainIsLabelledWithTheTime(t *testing.T) {
	for time, want := range map[int]string{
		1: "5", 2: "5 (2nd time)", 3: "5 (3rd time)", 4: "5 (4th time)", 11: "5 (11th time)", 12: "5 (12th time)",
		13: "5 (13th time)", 21: "5 (21st time)", 22: "5 (22nd time)", 100: "5 (100th time)", 111: "5 (111th time)", 101: "5 (101st time)",
	} {
		assert.Equal(t, want, score.BarLabel(5, time))
	}
}

func TestAnEndingIsNamedByItsTimes(t *testing.T) {
	for _, row := range []struct {
		want  string
		times []int
	}{{"1.", []int{1}}, {"1. 2.", []int{1, 2}}, {"2.–4.", []int{2, 3, 4}}} {
		assert.Equal(t, row.want, (&score.Ending{Times: row.times}).String())
	}
}
