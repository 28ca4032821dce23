package web_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// downloads has the page's downloads put into a folder, and returns it.
func (b *tab) downloads() string {
	b.t.Helper()
	folder := b.t.TempDir()
	_, err := chromedp.CallBrowser(b.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder,
		BrowserContextID: chromedp.FromContext(b.ctx).BrowserContextID,
	})
	require.NoError(b.t, err)
	return folder
}

// downloaded waits for a file of a pattern in a folder and returns its path.
func (b *tab) downloaded(folder, pattern string) (file string) {
	b.t.Helper()
	require.Eventually(b.t, func() bool {
		found, err := filepath.Glob(filepath.Join(folder, pattern))
		if err != nil || len(found) == 0 {
			return false
		}
		file = found[0]
		return true
	}, time.Minute, 50*time.Millisecond, pattern)
	return file
}

// touch lays a finger on the middle of an element, moves it there, or lifts it.
func (b *tab) touch(kind input.DispatchTouchEventType, selector string) {
	b.t.Helper()
	params := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
	if selector != "" {
		at := evaluate[struct{ X, Y float64 }](b, fmt.Sprintf(`(() => {
			const box = document.querySelector(%q).getBoundingClientRect();
			return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
		})()`, selector))
		params.TouchPoints = append(params.TouchPoints, &input.TouchPoint{X: at.X, Y: at.Y})
	}
	_, err := chromedp.Call(b.ctx, input.DispatchTouchEvent, params)
	require.NoError(b.t, err)
}

func (b *tab) loop() string {
	return evaluate[string](b, `document.querySelector(".loop-from").value + " to " + document.querySelector(".loop-to").value`)
}

// A finger that rests on a bar drags over bars from there, and they are the loop; a
// tap says where to begin.
func TestAFingerLoopsBars(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	b.do(chromedp.EmulateViewport(1200, 760, chromedp.EmulateTouch))
	b.until(`document.querySelectorAll(".music .bar").length === 4`)
	b.touch(input.DispatchTouchEventTypeTouchStart, `[data-written="1"]`)
	b.until(`document.querySelector(".dragged") !== null`)
	b.touch(input.DispatchTouchEventTypeTouchMove, `[data-written="2"]`)
	b.until(`document.querySelectorAll(".dragged").length === 2`)
	b.touch(input.DispatchTouchEventTypeTouchEnd, "")
	b.until(`document.querySelector(".dragged") === null`)
	assert.Equal(t, "2 to 3", b.loop())

	b.touch(input.DispatchTouchEventTypeTouchStart, `[data-written="2"]`)
	b.touch(input.DispatchTouchEventTypeTouchEnd, "")
	b.until(`document.querySelector(".count").innerText === "from bar 3"`)
	b.press("Whole chart")
	assert.Equal(t, "1 to 4", b.loop())
}

// Every way to see the page has a key.
func TestKeysChangeTheView(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	width := func() float64 {
		return evaluate[float64](b, `document.querySelector(".music").viewBox.baseVal.width`)
	}
	both := width()
	b.do(chromedp.KeyEvent("p"))
	assert.Less(t, width(), both, "large print has fewer bars in a row")
	b.do(chromedp.KeyEvent("p"), chromedp.KeyEvent("s"))
	assert.NotZero(t, evaluate[int](b, `document.querySelectorAll(".music [data-tick]").length`))
	heads := `document.querySelectorAll(".neck-drawing .open")[0].getAttribute("x")`
	right := evaluate[string](b, heads)
	b.do(chromedp.KeyEvent("h"))
	assert.NotEqual(t, right, evaluate[string](b, heads), "the strings' names stand on the other side")
	assert.Equal(t, 6, evaluate[int](b, `document.querySelectorAll(".neck-drawing .open").length`))
	colour := `getComputedStyle(document.body).backgroundColor`
	b.do(chromedp.KeyEvent("d"))
	light := evaluate[string](b, colour)
	b.do(chromedp.KeyEvent("d"))
	assert.NotEqual(t, light, evaluate[string](b, colour))
	b.do(chromedp.KeyEvent("c"), chromedp.KeyEvent("t"), chromedp.KeyEvent("n"), chromedp.KeyEvent("l"))
	assert.Equal(t, "always", evaluate[string](b, `document.querySelector(".count-in").value`))
	assert.Equal(t, 3, evaluate[int](b, `[...document.querySelectorAll(".panels .field.check")]
		.filter((f) => /Faster each|Take turns|Round and/.test(f.innerText || f.textContent) &&
			f.querySelector("input").checked !== /Round and/.test(f.textContent)).length`), "climb and turns are on, round and round is off")
	b.do(chromedp.KeyEvent("f"))
	assert.True(t, evaluate[bool](b, `document.querySelector(".screen-frame .screen") !== null`))
}

// While it plays the screen stays awake, and the device's keys for media work.
func TestTheDeviceIsToldThatItPlays(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device+`
		window.held = 0;
		navigator.wakeLock.request = async () => (window.held++, { release: async () => void window.held-- });
		window.actions = {};
		navigator.mediaSession.setActionHandler = (action, act) => (window.actions[action] = act);`)
	assert.Equal(t, "small-gate", filepath.Base(evaluate[string](b, `location.pathname.replace(".html", "")`)))
	b.play()
	b.until("held === 1")
	assert.Equal(t, "playing", evaluate[string](b, "navigator.mediaSession.playbackState"))
	assert.Equal(t, "Small Gate", evaluate[string](b, "navigator.mediaSession.metadata.title"))
	b.script("actions.pause()")
	b.until("held === 0")
	assert.Equal(t, "Play", b.text(".play"))
	b.script("actions.play()")
	b.until("held === 1")
}

// A film of the screen view is saved under the names of exercise and tempo.
func TestAFilmIsRecorded(t *testing.T) {
	b := open(t, practice(t, "one-bar", arrangetest.Score(t, "title: One Bar\nkey: C\nmeter: 2/4\nchart: '| C |'\ntempos: [200]\npasses: 1\n")), "")
	folder := b.downloads()
	b.do(chromedp.Click(chromedp.Search(`//label[.="Round and round, until I stop it"]`)))
	b.press("Record")
	file := b.downloaded(folder, "one-bar-200.*m*")
	film, err := os.Stat(file)
	require.NoError(t, err)
	assert.Greater(t, film.Size(), int64(10_000))
	b.until(`document.querySelector(".said").innerText === "The film is saved."`)
	b.isAlone()
}

// What was practised is shown, and gone when the student deletes it.
func TestWhatWasPractisedIsKeptAndDeletable(t *testing.T) {
	file := practice(t, "small-gate", small(t))
	b := open(t, file, device)
	told := `[...document.querySelectorAll(".panel")].find((p) => p.innerText.startsWith("Practised")).querySelector("p").textContent`
	b.play()
	b.pass(5.5) // count-in, four bars, and into the next round
	b.do(chromedp.KeyEvent("m"), chromedp.KeyEvent(" "))
	b.until(told + `.startsWith("1 time round, highest clean tempo 240")`)
	b.do(chromedp.Navigate("file://"+file), chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
	assert.Contains(t, evaluate[string](b, told), "1 time round, highest clean tempo 240")
	b.script(`document.querySelectorAll("details").forEach((d) => (d.open = true))`)
	b.press("Delete this record")
	assert.Contains(t, evaluate[string](b, told), "0 times round, no tempo marked")
	assert.NotContains(t, evaluate[string](b, "JSON.stringify(Object.keys(localStorage))"), "practised")
	assert.Zero(t, evaluate[int](b, `Object.keys(localStorage).filter((k) => !k.startsWith("thirdwise:")).length`))
}
