package exercise_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
)

// mendsOf returns what is offered for the mistakes of an exercise: the line as it would
// be, each with its number.
func mendsOf(t *testing.T, text string) (offered []string) {
	_, err := exercise.Parse("", []byte(text))
	var found source.Findings
	require.True(t, errors.As(err, &found), "%s: %v", text, err)
	for _, f := range found {
		for _, m := range f.Mends {
			lines := strings.Split(text, "\n")
			m.WriteTo(lines)
			offered = append(offered, fmt.Sprintf("%d %s", m.Line, lines[m.Line-1]))
		}
	}
	return offered
}

const restOfIt = "title: Loose Hinge\nkey: C major\nchart: '| C | G |'\n"

// A comment, quotation marks and what else stands in the line stay as they are.
func TestMendsAreWrittenInTheirPlaceAlone(t *testing.T) {
	for line, want := range map[string][]string{
		`feel: straigt # as ever`:            {`4 feel: straight # as ever`},
		`feel: "straigt"`:                    {`4 feel: "straight"`},
		`bass: walkin ♯`:                     {`4 bass: walking`},
		`line: {grid: eigths, low: C3}`:      {`4 line: {grid: eighths, low: C3}`},
		`by: @home # mine`:                   {`4 by: "@home" # mine`},
		`	by: x`:                             nil,
		`tempos: [60, 80 # two`:              {`4 tempos: [60, 80] # two`},
		`tempos: [60, {80`:                   {`4 tempos: [60, {80}`},
		`guitar: {tuning: [E4, B3, G3, D3]}`: {`4 guitar: {tuning: [D3 G3 B3 E4]}`},
		`by "me"`:                            {`4 by: "me"`},
		`by=`:                                nil,
		`by: 'it's me'`:                      {`4 by: "it's me"`},
		`by: "me`:                            {`4 by: "me"`},
		`strum: "U D U D U D U"`:             {`4 strum: "- U D U D U D U"`},
		`push: on`:                           nil,
	} {
		assert.Equal(t, want, mendsOf(t, restOfIt+line+"\n"), line)
	}
}

// Where the characters of a text stand elsewhere, or YAML would take what is written there
// for something else, a person writes it.
func TestNothingIsOfferedThatWouldNotBeReadInItsPlace(t *testing.T) {
	for _, line := range []string{
		`feel: "\x73traigt"`,       // an escape
		"feel: swing\n  sixtenths", // in two lines
		`strum: U D U D U D U`,     // would begin with a dash
		"tempo: 60\ntempos: [60]",  // would be there twice
		"tempo: 60\nTempos: [60]",  // the same in capitals
		"position: 5",              // belongs elsewhere
		"guitar: capo 2",           // belongs in a line of its own
		"line:\n  feel: swing",     // the same
		"groove: drum machine",     // is nothing that is known
	} {
		assert.Empty(t, mendsOf(t, restOfIt+line+"\n"), line)
	}
	const head = "title: Loose Hinge\nkey: C major\nchart: "
	assert.Empty(t, mendsOf(t, head+"(Verse) | C | G |\n"), "would begin a list")
	assert.Equal(t, []string{"3 chart: '[Verse] | C | G |'"}, mendsOf(t, head+"'(Verse) | C | G |'\n"))
	assert.Empty(t, mendsOf(t, head+`"| C | \x47"`+"\n"), "an escape")
	assert.Equal(t, []string{"3 chart: '| C | G |'"}, mendsOf(t, head+"'| C | G'\n"))
	assert.Equal(t, []string{"4   |: C :| x3"}, mendsOf(t, head+"|\n  |: C :| 3 times\n"))
	assert.Empty(t, mendsOf(t, head+"|\n  |: C :| 3\n  times\n"), "in two lines")
	assert.Empty(t, mendsOf(t, restOfIt+"guitar:\n  tuning:\n    - E4\n    - B3\n    - G3\n    - D3\n"), "the same")
}

// Each is a chord, or none, as the words beside it say.
func TestWhatIsOfferedForAWordOfAChart(t *testing.T) {
	for bar, want := range map[string][]string{
		"𝄎":          {"%"},
		"(A)":        {"A", "[A]"},
		"(Am7)":      {"Am7"},
		"(D x)":      nil,
		"x )":        nil,
		"D ()":       {"D "},
		"()":         nil,
		"~":          nil,
		"C ~":        {"C "},
		",":          nil,
		"C ,":        {"C "},
		"Asus3":      {"Asus2", "Asus4"},
		"Cadd9(no5)": {"Cadd9"},
		"C-G":        {"C G"},
		"FA#":        {"F#"},
		"AmF":        {"Am F"},
		"2m":         {"ii"},
		"1/3":        {"I/E"},
		"2x":         nil,
		"V7x/ii":     {"V7/ii"},
		"V7/ii7.":    {"V7/ii7"},
		"V65/ii":     {"V7/ii/C#"},
		"V65/E":      nil,
		"V7x/D":      {"V7/D"},
		"C/Hm":       nil,
		"C/H":        {"C/B"},
		"x32010":     nil,
	} {
		got := mendsOf(t, "title: Loose Hinge\nkey: C major\nchart: |\n  | F | "+bar+" |\n")
		for i := range got {
			got[i] = strings.TrimSuffix(strings.TrimPrefix(got[i], "4   | F | "), " |")
		}
		assert.Equal(t, want, got, bar)
	}
}
