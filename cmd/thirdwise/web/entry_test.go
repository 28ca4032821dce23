package web_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/cmd/thirdwise/web"
)

// enterFocused enters a value into a field that has, and keeps, the focus.
func (b *tab) enterFocused(selector, value string) {
	b.t.Helper()
	b.script(fmt.Sprintf("document.querySelector(%q).focus()", selector))
	b.enter(selector, value)
}

// What is typed out of bounds, or is no number, is not left standing as if it held.
func TestFieldsTellWhatHolds(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	value := func(selector string) string {
		return evaluate[string](b, fmt.Sprintf("document.querySelector(%q).value", selector))
	}
	for typed, holds := range map[string]string{"1000": "400", "7": "20", "": "240"} {
		b.enterFocused("#tempo", "240")
		b.enterFocused("#tempo", typed)
		assert.Equal(t, holds, value("#tempo"), "tempo %q", typed)
	}
	b.enterFocused(".loop-to", "99")
	assert.Equal(t, "1 to 4", b.loop())
	b.enterFocused(".loop-from", "")
	assert.Equal(t, "1 to 4", b.loop())
}

// Who wants bars 3 to 4 while 1 to 2 go round types one number after the other.
func TestALoopIsTypedFromEitherEnd(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	b.enterFocused(".loop-to", "2")
	b.enterFocused(".loop-from", "3")
	assert.Equal(t, "3 to 3", b.loop())
	b.enterFocused(".loop-to", "4")
	assert.Equal(t, "3 to 4", b.loop())
	b.enterFocused(".loop-to", "1")
	assert.Equal(t, "1 to 1", b.loop())
}

// A pickup is bar 0, and can go round as any other bar.
func TestAPickupCanBeLooped(t *testing.T) {
	s := arrangetest.Score(t, "title: Small Gate\nkey: C major\nchart: '| [pickup] N.C. / / G7 | C | F | G7 |'\ntempos: [240]\n")
	b := open(t, practice(t, "small-gate", s), device)
	b.enterFocused(".loop-from", "1")
	require.Equal(t, "1 to 3", b.loop())
	b.enterFocused(".loop-from", "0")
	assert.Equal(t, "0 to 3", b.loop())
	assert.Equal(t, "0", evaluate[string](b, `document.querySelector(".loop-from").min`))
}

// What is offered to go round are bars that follow one another on the sheet, each once: not
// a pickup, nor what a repeat comes to again; and what is chosen comes into view.
func TestWhatGoesRoundIsOnTheSheet(t *testing.T) {
	for _, c := range []struct{ chart, offered string }{
		{"  [pickup] N.C. / / G |\n  [A] |: C | Am | F |1. G | Em | C :|2. G | Dm | F :|3. C |\n  [B] | Am | C |\n", "Whole chart, A, Bars 1–4, Bars 5–6, Bars 7–9, Bar 10, B"},
		{"  |: C | Am | F | G | C | G :|\n  | C | Am | F | G |\n", "Whole chart, Bars 1–4, Bars 5–6, Bars 7–10"},
	} {
		b := open(t, practice(t, "chart", arrangetest.Score(t, "title: Chart\nkey: C major\nline: {density: 100%}\nchart: |\n"+c.chart)), "")
		assert.Equal(t, c.offered, evaluate[string](b, `[...document.querySelectorAll("[data-range]")].map((e) => e.innerText).join(", ")`))
		b.do(chromedp.EmulateViewport(390, 844))
		b.script(`[...document.querySelectorAll("[data-range]")].at(-1).click()`)
		b.until(`(() => {
			const bar = document.querySelector(".bar.looped").getBoundingClientRect();
			const sheet = document.querySelector(".sheet").getBoundingClientRect();
			return bar.top >= sheet.top && bar.bottom <= sheet.bottom;
		})()`)
	}
}

// How it was practised is there when the page comes again; of a kit whose chart is
// another since then, the bars are not.
func TestTheStandIsAsItWasLeft(t *testing.T) {
	file := practice(t, "small-gate", small(t))
	b := open(t, file, device)
	again := func() { b.do(chromedp.Navigate("file://"+file), chromedp.WaitReady(chromedp.CSS("html[data-ready]"))) }
	b.enter("#tempo", "150")
	b.enter(".loop-from", "2")
	b.press("Without the guide")
	again()
	assert.Equal(t, "2 to 4", b.loop())
	assert.Equal(t, "150", evaluate[string](b, `document.querySelector("#tempo").value`))
	assert.Equal(t, "true", evaluate[string](b, `[...document.querySelectorAll("button")].find((b) => b.innerText === "Without the guide").ariaPressed`))

	f, err := os.Create(file)
	require.NoError(t, err)
	longer := arrangetest.Score(t, strings.Replace(exercise, "G7 |", "G7 | Am | F | G7 | C |", 1))
	require.NoError(t, web.Practice.WritePractice(f, "small-gate", longer, gain))
	require.NoError(t, f.Close())
	again()
	assert.Equal(t, "1 to 8", b.loop())
	assert.Equal(t, "150", evaluate[string](b, `document.querySelector("#tempo").value`))
}

// The screen view can be left without a keyboard and without the device's whole
// screen, and what has the focus then is what opened it.
func TestTheScreenViewIsLeftByTouch(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device+"\nElement.prototype.requestFullscreen = undefined;")
	b.do(chromedp.EmulateViewport(844, 390, chromedp.EmulateTouch))
	b.press("Screen view")
	b.do(chromedp.WaitReady(chromedp.CSS(".screen-frame")))
	assert.True(t, evaluate[bool](b, `document.querySelector("main").inert`), "the page behind it is out of reach")
	assert.LessOrEqual(t, evaluate[float64](b, `document.querySelector(".screen").getBoundingClientRect().bottom`), 390.0, "the lower row is seen")
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector(".play").textContent === "Pause"`)
	b.press("Back to the page")
	assert.False(t, evaluate[bool](b, `document.querySelector(".screen-frame") !== null || document.querySelector("main").inert`))
	assert.Equal(t, "Screen view", evaluate[string](b, "document.activeElement.innerText"))
	assert.Equal(t, "Pause", b.text(".play"), "it plays on")
}

// Where a browser has no sound to give, or does not run the engine, that is said where
// Play is, and the music can still be read.
func TestItIsSaidWherePlayIsThatItCannotPlay(t *testing.T) {
	file := practice(t, "small-gate", small(t))
	for lacks, press := range map[string]bool{"AudioContext": true, "WebAssembly": false} {
		t.Run(lacks, func(t *testing.T) {
			b := visit(t, file, "delete window."+lacks)
			b.do(chromedp.EmulateViewport(360, 640, chromedp.EmulateTouch), chromedp.WaitReady(chromedp.CSS(".music .bar")))
			if press {
				b.press("Play")
			}
			b.until(`document.querySelector(".trouble").innerText.startsWith("This browser cannot play")`)
			assert.True(t, evaluate[bool](b, `(() => {
				const [told, play] = [".trouble", ".play"].map((part) => document.querySelector(part).getBoundingClientRect());
				return told.top >= 0 && told.bottom <= play.top && play.top - told.bottom < 20 && play.bottom <= innerHeight;
			})()`), "it stands right above Play")
			assert.Equal(t, "alert", evaluate[string](b, `document.querySelector(".trouble").role`))
			assert.Equal(t, "Play", b.text(".play"))
		})
	}
}

// One button leads back to where the loop begins, whether it plays or not.
func TestBackToTheBeginning(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	b.enter(".loop-from", "2")
	b.enter(".count-in", "none")
	b.play()
	b.pass(1.5)
	b.until(`document.querySelector(".count").innerText.startsWith("bar 3")`)
	b.press("Back to the beginning")
	b.pass(0.3)
	b.until(`document.querySelector(".count").innerText.startsWith("bar 2")`)
	assert.Equal(t, "Pause", b.text(".play"), "it plays on from there")
	b.pass(1.2)
	b.until(`document.querySelector(".count").innerText.startsWith("bar 3")`)
	b.press("Pause")
	b.press("Back to the beginning")
	b.until(`document.querySelector(".count").innerText === "from bar 2"`)
}
