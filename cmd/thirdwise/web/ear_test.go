package web_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/theory/neck"
)

// inWords opens the panel with the exercise in words, and returns the items of a list in
// it.
func (b *tab) inWords(list string) []string {
	b.t.Helper()
	b.script(`[...document.querySelectorAll(".panel")].find((p) => p.textContent.startsWith("In words")).open = true`)
	b.until(`document.querySelector("ol.in-words").childElementCount > 0`)
	return evaluate[[]string](b, fmt.Sprintf(`[...document.querySelectorAll("%s.in-words li")].map((item) => item.innerText)`, list))
}

// Who does not see the sheet has all of it in words: each bar's chords, and each third
// with its notes, strings and frets, when it is played, and where the line rests. The
// drawings, whose numbers say nothing by themselves, are not read out.
func TestTheExerciseIsThereInWords(t *testing.T) {
	s := arrangetest.Score(t, "title: Gate\nkey: C major\nchart: '| C | Am | F | G7 |'\nline:\n  own:\n    2: C4 - - . E4 F4 x x\n")
	b := open(t, practice(t, "gate", s), "")
	bars := b.inWords("ol")
	require.Len(t, bars, len(s.Bars))
	place := func(p neck.Place) string {
		if p.Fret == 0 {
			return fmt.Sprintf("string %d open", p.String)
		}
		return fmt.Sprintf("string %d fret %d", p.String, p.Fret)
	}
	for i, bar := range s.Bars {
		rest := bars[i]
		for _, third := range s.Line {
			if third.Tick < bar.Tick || third.Tick >= bar.Tick+s.Meter.Bar() {
				continue
			}
			words := place(third.Places.Lower) + ", " + place(third.Places.Upper)
			_, behind, found := strings.Cut(rest, words)
			assert.True(t, found, "%s in %s", words, rest)
			rest = behind
		}
		assert.NotContains(t, rest, "string", "no other thirds")
	}
	assert.Regexp(t, `^Bar 2\. Beat 1: A minor; C and E, string . [a-z0-9 ]+, string . [a-z0-9 ]+\. Beat 2 and: rest\. Beat 3: E and G, string . [a-z0-9 ]+, string . [a-z0-9 ]+\. Beat 3 and: F and A, `, bars[1])
	assert.Zero(t, evaluate[int](b, `document.querySelectorAll('.sheet svg:not([aria-hidden="true"])').length`))
	assert.Equal(t, "Grip of C: string 6 not played, string 5 fret 3, string 4 fret 2, string 3 open, string 2 fret 1, string 1 open.",
		evaluate[string](b, `document.querySelector(".grip-drawing").ariaLabel`))
	b.isAlone()
}

// Chords are said as musicians say them.
func TestChordsAreSaidInWords(t *testing.T) {
	b := open(t, practice(t, "gate", arrangetest.Score(t,
		"title: Gate\nkey: C major\nchart: '| C#m7b5 | Bb/D | Gsus4 | Dm7 | F#dim | Caug | Amaj7 | E7#9 | Cm(maj7) | Cadd9 |'\n")), "")
	var said []string
	for _, grip := range b.inWords("ul") {
		name, _, _ := strings.Cut(grip, ":")
		said = append(said, name)
	}
	assert.Equal(t, []string{
		"C sharp minor 7 flat 5", "B flat over D", "G sus 4", "D minor 7", "F sharp diminished", "C augmented",
		"A major 7", "E 7 sharp 9", "C minor major 7", "C add 9",
	}, said)
}

// While it plays, each chord can be called a beat before it comes, and bar, grip and
// line can be asked for at any time.
func TestChordsAreCalledABeatBefore(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	b.do(chromedp.KeyEvent("e"))
	b.play()
	const said = `document.querySelector(".said").innerText`
	reach := func(count string) { // that is shown
		for b.text(".count") != count {
			b.pass(0.05)
			evaluate[bool](b, `new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve(true))))`)
		}
	}
	reach("count-in, beat 4")
	b.until(said + ` === "C"`)
	for i, chord := range []string{"A minor", "F", "G 7", "C"} {
		reach(fmt.Sprintf("bar %d, beat 3", i+1))
		assert.NotEqual(t, chord, b.text(".said"), "not yet")
		reach(fmt.Sprintf("bar %d, beat 4", i+1))
		b.until(fmt.Sprintf(`%s === %q`, said, chord))
	}
	b.do(chromedp.KeyEvent("e"), chromedp.KeyEvent("g"))
	b.until(said + `.startsWith("G 7: string 6 fret 3")`)
	b.do(chromedp.KeyEvent("i"))
	b.until(said + `.startsWith("Bar 4. Beat 1: G 7; ")`)
	b.inWords("ol")
	b.until(`document.querySelector('.in-words [aria-current="true"]')?.innerText.startsWith("Bar 4.")`)
	assert.Equal(t, "status", evaluate[string](b, `document.querySelector(".said").role`))
}

// The first thing that the tabulator comes to leads to Play.
func TestPlayIsReachedAtOnce(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	b.do(chromedp.KeyEvent("\t"))
	assert.Equal(t, "To Play", evaluate[string](b, "document.activeElement.innerText"))
	assert.True(t, evaluate[bool](b, "document.activeElement.getBoundingClientRect().top >= 0"), "it is seen")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`document.activeElement.id === "play"`)
}
