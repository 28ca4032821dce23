package web_test

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// While an exercise has mistakes, what is seen and heard is what it was before them. It
// is told so, nothing of it is printed or put into a kit, and what did not happen is
// said beside the button that was pressed.
func TestOlderMusicIsToldAndNotPrinted(t *testing.T) {
	file := workbench(t)
	b := open(t, file, "window.print = () => (window.printings = (window.printings ?? 0) + 1);")
	b.write("title: Door\nkey: C major\nchart: '| C | G |'\n")
	assert.Empty(t, b.text(".older"))
	b.press("Print")
	b.until("window.printings === 1")
	b.write("title: Door\nkey: C major\nchart: '| C | H |'\n")
	assert.Equal(t, "The exercise has mistakes: this is how it was before.", b.text(".older"))
	b.press("Print")
	b.until(`document.querySelector(".kit-state").innerText === "Nothing was printed: the exercise has mistakes."`)
	assert.Equal(t, 1, evaluate[int](b, "window.printings"))
	b.press("Download kit")
	b.until(`document.querySelector(".kit-state").innerText === "No kit was made: the exercise has mistakes."`)
	assert.True(t, evaluate[bool](b, `(() => {
		const [told, header] = [".kit-state p", "header"].map((part) => document.querySelector(part).getBoundingClientRect());
		return told.height > 0 && told.bottom <= header.bottom && told.bottom <= innerHeight;
	})()`), "it is seen")
	b.field("Key: move to", "D")
	b.until(`document.querySelector("#findings-count").innerText === "It cannot be moved: the exercise has mistakes"`)

	// A page that comes again with mistakes has no music yet.
	b.until(kept)
	b.do(chromedp.Navigate("file://"+file), chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
	b.until(`document.querySelector(".result").innerText.startsWith("The exercise has mistakes.")`)
	b.write("title: Door\nkey: C major\nchart: '| C | G |'\n")
	b.do(chromedp.WaitReady(chromedp.CSS(".play")))
	assert.Empty(t, b.text(".older"))
	b.isAlone()
}
