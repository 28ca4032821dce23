package contour_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory/line/contour"
)

// A question rises to seven tenths of its length and stays above the middle; an answer
// is highest at a third of its own and ends below it. Neither leaves the compass.
func TestAQuestionStaysOpenAndAnAnswerCloses(t *testing.T) {
	const low, high = 20, 34
	const middle = (low + high) / 2
	highest := func(phrase int) (at int) {
		for part := range 101 {
			if contour.At(phrase, part, low, high) > contour.At(phrase, at, low, high) {
				at = part
			}
		}
		return at
	}
	assert.Equal(t, middle, contour.At(0, 0, low, high))
	assert.InDelta(t, 60, highest(0), 10)
	assert.Greater(t, contour.At(2, 100, low, high), middle, "phrase 2 asks again")
	assert.InDelta(t, 30, highest(1), 10)
	assert.Less(t, contour.At(1, 100, low, high), middle)
	assert.Equal(t, contour.At(1, 100, low, high), contour.At(1, 130, low, high), "beyond its end")
	for part := range 101 {
		assert.Equal(t, 25, contour.At(1, part, 25, 25), "a compass of one step")
	}
}
