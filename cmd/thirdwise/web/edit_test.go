package web_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawn is what the sheet shows: every row with its bars and thirds, but for what is
// lit at the time.
const drawn = `[...document.querySelectorAll(".sheet .system")].map((row) => row.outerHTML
	.replace(/ class=""/g, "").replace(/ class="(next|lit)"/g, "")
	.replace(/bar (looped|sounding)/g, "bar")).join("\n")`

// shown returns what the sheet shows, whose rows refer to no outline that is missing.
func (b *tab) shown() string {
	b.t.Helper()
	assert.Zero(b.t, evaluate[int](b, `[...document.querySelectorAll(".sheet use")]
		.filter((use) => !document.querySelector(use.getAttribute("href"))).length`), "outlines are missing")
	assert.Zero(b.t, evaluate[int](b, `[...document.querySelectorAll(".sheet [id]")]
		.filter((e, i, all) => all.findIndex((other) => other.id === e.id) !== i).length`), "ids are not unique")
	return evaluate[string](b, drawn)
}

// anew has the whole sheet drawn again, by way of the other staves, which share no row
// with it.
func (b *tab) anew() {
	b.t.Helper()
	for range 3 {
		b.script("delete document.documentElement.dataset.arranged")
		b.do(chromedp.KeyEvent("s"), chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
	}
}

// While one writes, rows that stay are not drawn again, and yet the sheet is as one
// that is drawn anew.
func TestAnEditedSheetIsAsOneDrawnAnew(t *testing.T) {
	const bars = "  | C | Am | Dm | G7 |\n  | Em | F | Dm G | C |\n"
	first := "title: Gate\nkey: C major\nchart: |\n" + strings.Repeat(bars, 3)
	swap := func(text, old, new string) string { return strings.Replace(text, old, new, 1) }
	steps := []string{first}
	for _, change := range []func(string) string{
		func(s string) string { return swap(s, "Em | F", "Em | Dm") },
		func(s string) string { return swap(s, "C | Am", "C A7 | Am") }, // a third more before all others
		func(s string) string { return swap(s, "title: Gate", "title: Other Gate") },
		func(s string) string { return swap(s, bars, bars+"  [B] | F#m7b5 | B7 |\n") },
		func(s string) string { return swap(s, "  | C A7 | Am | Dm | G7 |\n", "") },
		func(s string) string { return s + "line: {density: 80%, grid: triplets}\n" },
		func(s string) string { return s + "passes: 3\n" },
	} {
		steps = append(steps, change(steps[len(steps)-1]))
	}
	steps = append(steps, first)

	b := open(t, workbench(t), "")
	b.write(first)
	b.do(chromedp.WaitReady(chromedp.CSS(".sheet .bar")))
	b.anew() // in the width that the sheet has by now
	b.script(`document.querySelector(".sheet .system").drawnBefore = true`)
	b.write(steps[1])
	assert.True(t, evaluate[bool](b, `document.querySelector(".sheet .system").drawnBefore === true`), "the first row stays")
	for _, text := range steps {
		b.write(text)
		got := b.shown()
		require.NotEmpty(t, got)
		b.anew()
		assert.Equal(t, b.shown(), got, text)
	}
	b.isAlone()
}

// What is typed is never written over: there is nothing to type into before the exercise is
// there that was kept.
func TestNothingIsTypedBeforeTheTextIsThere(t *testing.T) {
	b := open(t, workbench(t), `
		new MutationObserver(() => {
			const text = document.querySelector("#exercise");
			if (text) window.couldType ??= !text.disabled;
		}).observe(document, { childList: true, subtree: true });`)
	assert.False(t, evaluate[bool](b, "window.couldType"), "at first")
	assert.False(t, evaluate[bool](b, `document.querySelector("#exercise").disabled`), "at last")
	assert.NotEmpty(t, b.value())
}
