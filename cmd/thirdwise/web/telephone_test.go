package web_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
)

// windows are those of telephones, upright and on their sides, with and without what
// a browser takes of the screen.
var windows = [][2]int64{{320, 640}, {360, 560}, {360, 640}, {390, 844}, {640, 360}, {844, 390}}

// wide goes up the whole neck, which is drawn over the width of a telephone.
func wide(t testing.TB, title string) *score.Score {
	return arrangetest.Score(t, strings.ReplaceAll(exercise, "Small Gate", title)+"guitar: {position: free}\nline: {low: C4, density: 100%}\n")
}

// What sounds can be seen on a telephone however it is held, without a scroll: the bar
// with all its strings, the neck, the chord's grip, and what stops it, with the
// exercise's own tempos; nothing jumps as it begins.
func TestWhatSoundsIsSeenOnATelephone(t *testing.T) {
	type shown struct {
		file   string
		window [2]int64
		long   bool // the neck
	}
	twoLines := arrangetest.Score(t, strings.ReplaceAll(exercise, "Small Gate", "The Small Gate Behind the Long Orchard"))
	all := []shown{
		{practice(t, "long-title", wide(t, "A Wide Gate up the Neck")), [2]int64{360, 640}, true},
		{practice(t, "two-lines", twoLines), [2]int64{360, 640}, false},
	}
	for _, window := range windows {
		all = append(all, shown{practice(t, "small-gate", small(t)), window, false}, shown{practice(t, "wide-gate", wide(t, "Wide Gate")), window, true})
	}
	for _, c := range all {
		window := c.window
		t.Run(fmt.Sprintf("%s %dx%d", filepath.Base(c.file), window[0], window[1]), func(t *testing.T) {
			b := open(t, c.file, device)
			b.do(chromedp.EmulateViewport(window[0], window[1], chromedp.EmulateTouch))
			top := func() float64 {
				return evaluate[float64](b, `document.querySelector(".sheet").getBoundingClientRect().top`)
			}
			require.Equal(t, c.long, evaluate[bool](b, `document.querySelector(".neck").matches(".long")`))
			if !c.long && window == [2]int64{360, 640} {
				assert.GreaterOrEqual(t, evaluate[float64](b, `document.querySelector(".dock").getBoundingClientRect().top - document.querySelector(".sheet").getBoundingClientRect().bottom`), 0.0, "the sheet ends above what is at hand")
			}
			before := top()
			b.play()
			b.pass(3.4) // count-in, two bars, and into the third
			b.until(`document.querySelector(".count").innerText.startsWith("bar 3")`)
			assert.InDelta(t, before, top(), 0.5, "the sheet stays where it was")
			assert.Equal(t, "", evaluate[string](b, `new Promise((resolve) => {
				const cut = () => { // once the row has come into view
					const bar = document.querySelector(".bar.sounding").getBoundingClientRect();
					const sheet = document.querySelector(".sheet").getBoundingClientRect();
					const dock = document.querySelector(".dock").getBoundingClientRect();
					const seen = bar.top >= sheet.top - 1 && bar.bottom <= Math.min(sheet.bottom, dock.top) + 1 && dock.bottom <= innerHeight + 1;
					return seen ? "" : [bar.top, bar.bottom, sheet.top, sheet.bottom, dock.top, dock.bottom].join(" ");
				};
				let frames = 0;
				const look = () => (!cut() || frames++ > 200 ? resolve(cut()) : requestAnimationFrame(look));
				look();
			})`), "the bar is seen from top to bottom")
			assert.Empty(t, evaluate[[]string](b, `[[".neck-drawing", 65], [".grip-drawing", 60], ['[data-tempo="240"]', 44], ['[data-tempo="200"]', 44]].filter(([part, least]) => {
				const seen = document.querySelector(part).getBoundingClientRect();
				const bottom = part.startsWith(".") ? document.querySelector(".dock").getBoundingClientRect().top : innerHeight;
				return seen.top < 0 || seen.left < 0 || seen.right > innerWidth || seen.height < least || seen.bottom > bottom;
			}).map(([part]) => part)`), "all of it is seen")
			assert.LessOrEqual(t, evaluate[int64](b, "document.documentElement.scrollWidth"), window[0])
		})
	}
}

// Letters of twice the size still fit a telephone: nothing is cut off, or squeezed away.
func TestLargeLettersFitATelephone(t *testing.T) {
	for name, file := range map[string]string{"practice": practice(t, "small-gate", small(t)), "workbench": workbench(t)} {
		t.Run(name, func(t *testing.T) {
			b := open(t, file, "")
			b.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateTouch))
			b.do(chromedp.WaitReady(chromedp.CSS(".dock")))
			b.script(`document.querySelectorAll("details").forEach((d) => (d.open = true))`)
			size := func() float64 {
				return evaluate[float64](b, `parseFloat(getComputedStyle(document.querySelector(".caution")).fontSize)`)
			}
			usual := size()
			b.script(`document.documentElement.style.fontSize = "200%"`)
			assert.InDelta(t, 2*usual, size(), 0.1)
			for _, width := range []int64{390, 320} {
				b.do(chromedp.EmulateViewport(width, 844, chromedp.EmulateTouch))
				assert.LessOrEqual(t, evaluate[int64](b, "document.documentElement.scrollWidth"), width)
				assert.Less(t, evaluate[float64](b, `document.querySelector(".dock").getBoundingClientRect().height`), 844/3.0, "the music has room beside what is always at hand")
			}
			assert.InDelta(t, 26, evaluate[float64](b, `document.querySelector(".play .sign").getBoundingClientRect().width`), 0.5)
		})
	}
}

// The cautions are read without a tap: on a telephone they stand below the music, whole,
// and what is always at hand does not lie on them.
func TestTheCautionsAreRead(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	for _, window := range [][2]int64{{390, 844}, {768, 1024}, {1440, 900}} {
		b.do(chromedp.EmulateViewport(window[0], window[1]))
		assert.True(t, evaluate[bool](b, `(() => {
			const [caution, dock] = [".caution", ".dock"].map((part) => document.querySelector(part).getBoundingClientRect());
			return caution.height > 10 && caution.bottom <= dock.top;
		})()`), fmt.Sprint(window))
	}
	b.do(chromedp.EmulateViewport(390, 844))
	b.script(`document.documentElement.style.fontSize = "200%"; document.querySelector(".caution").scrollIntoView({ block: "center" });`)
	assert.True(t, evaluate[bool](b, `(() => {
		const [caution, dock] = [".caution", ".dock"].map((part) => document.querySelector(part).getBoundingClientRect());
		return caution.top >= 0 && caution.bottom <= dock.top;
	})()`), "all of it is seen at once")
}

// What a thumb taps is 44 pixels high and wide (WCAG 2.2, 2.5.5).
func TestTargetsSuitAThumb(t *testing.T) {
	const targets = `[...document.querySelectorAll("button, select, input[type=number], input[type=text], input[type=range], summary, label")]
		.filter((e) => e.offsetParent && !e.closest("[hidden]") && (e.tagName !== "LABEL" || e.control?.type === "checkbox"))
		.map((e) => [(e.innerText || e.getAttribute("aria-label") || e.className).trim(), e.getBoundingClientRect()])
		.filter(([, box]) => box.height < 43.5 || box.width < 43.5).map(([name, box]) => name + ": " + box.width + " by " + box.height)`
	for name, file := range map[string]string{"practice": practice(t, "small-gate", small(t)), "workbench": workbench(t)} {
		t.Run(name, func(t *testing.T) {
			b := open(t, file, "")
			b.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateTouch))
			b.do(chromedp.WaitReady(chromedp.CSS(".dock")))
			b.script(`document.querySelectorAll("details").forEach((d) => (d.open = true))`)
			b.until(`matchMedia("(pointer: coarse)").matches`)
			assert.Empty(t, evaluate[[]string](b, targets))
		})
	}
}

// Who has letters of twice the size set in the browser sees the bar that sounds on a small
// telephone, too: with Play the music comes into view, and has the window.
func TestMusicComesIntoViewBelowLargeLetters(t *testing.T) {
	b := open(t, practice(t, "long-title", wide(t, "A Wide Gate up the Neck and Down Again")), device)
	_, err := chromedp.Call(b.ctx, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: 32}})
	require.NoError(t, err)
	for _, window := range [][2]int64{{320, 640}, {390, 844}} {
		b.do(chromedp.EmulateViewport(window[0], window[1], chromedp.EmulateTouch))
		b.script("scrollTo(0, 0)")
		b.play()
		b.pass(1.5) // count-in, and into the first bar
		b.until(`document.querySelector(".bar.sounding") !== null`)
		b.until(`(() => {
			const [bar, dock] = [".bar.sounding", ".dock"].map((part) => document.querySelector(part).getBoundingClientRect());
			return bar.top >= 0 && bar.bottom <= dock.top;
		})()`)
		assert.Greater(t, evaluate[float64](b, `document.querySelector(".sheet").getBoundingClientRect().height`), float64(window[1])/2)
		b.press("Pause")
		b.press("Back to the beginning")
	}
}
