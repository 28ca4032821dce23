package web_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// value returns the text of the exercise.
func (b *tab) value() string {
	b.t.Helper()
	return evaluate[string](b, `document.querySelector("#exercise").value`)
}

// arranged waits until what an action writes is arranged.
func (b *tab) arranged(action func()) {
	b.t.Helper()
	b.script("delete document.documentElement.dataset.arranged")
	action()
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
}

// A bar of the line is locked as it is, unlocked, written by places on the neck, and
// played otherwise, and each stands in the text; comments stay.
func TestABarIsWrittenByHand(t *testing.T) {
	b := open(t, workbench(t), "")
	const text = "title: Door # plain\nkey: C major\nchart: |\n  | C | Am | Dm | G |\nline:\n    grid: quarters # slow\ntempos: [80]\n"
	b.write(text)
	b.script(`[...document.querySelectorAll("summary")].find((s) => s.innerText === "One bar").click()`)
	b.do(chromedp.Click(chromedp.CSS(`[data-written="1"]`)))
	b.until(`document.querySelector(".bar-number").value === "2" && document.querySelectorAll(".slot").length === 4`)
	b.arranged(func() { b.press("Lock this bar") })
	const before = "title: Door # plain\nkey: C major\nchart: |\n  | C | Am | Dm | G |\nline:\n    grid: quarters # slow\n    own:\n        2: "
	assert.Regexp(t, "^"+before+`[A-G]\d( [-.A-Gx]\d?){3}`+"\ntempos: ", b.value())
	b.until(`[...document.querySelectorAll("button")].some((b) => b.innerText === "Unlock this bar")`)
	b.arranged(func() { b.press("Unlock this bar") })
	assert.Equal(t, text, b.value())

	b.until(`document.querySelectorAll(".choice").length > 3`)
	name := evaluate[string](b, `document.querySelector(".choice").getAttribute("aria-label")`)
	b.arranged(func() { b.script(`document.querySelector(".choice").focus()`); b.do(chromedp.KeyEvent("\r")) })
	note := strings.Fields(name)[0]
	assert.Contains(t, b.value(), before+note+" ")
	b.until(`document.querySelectorAll(".slot")[1].getAttribute("aria-pressed") === "true"`)
	b.arranged(func() { b.press("Rest") })
	b.arranged(func() { b.press("Let it be found") })
	assert.Regexp(t, before+note+` \. x [-.A-Gx]\d?`+"\n", b.value())
	assert.NotContains(t, b.text("#findings-count"), " mistake", b.text(".findings"))

	b.until(`document.querySelectorAll(".slot").length === 4`)
	b.press("Other ways")
	b.until(`document.querySelectorAll(".ways-found li").length > 0`)
	way := evaluate[string](b, `document.querySelector(".ways-found span").innerText`)
	b.arranged(func() {
		b.press(evaluate[string](b, `document.querySelector(".ways-found button").getAttribute("aria-label")`))
	})
	assert.Contains(t, b.value(), before+strings.NewReplacer("–", "-", "·", ".").Replace(way)+"\n")
	b.press("Step back")
	assert.Regexp(t, before+note+` \. x`, b.value())
	b.isAlone()
}

// A tap on a row of the tab of the bar that is chosen writes a third whose lower note
// lies on that string, another one at each tap.
func TestTapsOnTheTabWriteThirds(t *testing.T) {
	b := open(t, workbench(t), "")
	const before = "title: Door\nkey: C major\nguitar: {position: 5}\nchart: |\n  | C | Am | Dm | G |\n"
	b.write(before)
	b.script(`document.querySelector(".one-bar summary").click()`)
	// The lower of the frets with which bar 2 begins: the one that stands lower on the page.
	const lower = `[...document.querySelector('[data-bar="2"]').querySelectorAll('[href^="#b3"], [href^="#r3"]')]
		.map((use) => use.getBoundingClientRect()).sort((a, b) => b.y - a.y)[0]`
	tap := func() {
		b.script(`
			const box = ` + lower + `;
			const at = { clientX: box.x + box.width / 2, clientY: box.y + box.height / 2, isPrimary: true, bubbles: true, pointerType: "mouse" };
			for (const type of ["pointerdown", "pointerup"]) document.querySelector(".sheet").dispatchEvent(new PointerEvent(type, at));`)
	}
	// The place of the bar's first third, as the neck tells it: "C4 and E4, strings 2 and 1, frets 1 and 0".
	place := func() (on, fret string) {
		b.script(`document.querySelector(".slot").click()`)
		told := evaluate[string](b, `document.querySelector(".choice.chosen").getAttribute("aria-label")`)
		found := regexp.MustCompile(`strings (\d) .* frets (\d+) `).FindStringSubmatch(told)
		require.NotNil(t, found, told)
		return found[1], found[2]
	}
	b.until(`document.querySelector('[data-bar="2"]')`)
	tap()
	b.until(`document.querySelector(".bar-number").value === "2" && document.querySelector(".slot") !== null`)
	assert.NotContains(t, b.value(), "own:", "the first tap chooses the bar")
	on, fret := place()
	frets := map[string]bool{fret: true}
	for range 2 {
		b.script("delete document.documentElement.dataset.arranged")
		tap()
		b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
		assert.Contains(t, b.value(), before+"line:\n  own:\n    2: ")
		assert.NotRegexp(t, `\d mistake`, b.text("#findings-count"))
		again, fret := place()
		assert.Equal(t, on, again, "the string")
		frets[fret] = true
	}
	assert.Greater(t, len(frets), 1, "on another fret")
	b.isAlone()
}

// Files come from a folder and go back to it; one that is dropped on the page opens.
func TestFilesOfAFolderAreOpenedAndSaved(t *testing.T) {
	b := open(t, workbench(t), `
		window.saved = {};
		const file = (name, text) => ({
			kind: "file", name, getFile: async () => new File([text], name),
			createWritable: async () => ({ write: async (text) => void (saved[name] = text), close: async () => {} }),
		});
		window.showDirectoryPicker = async () => ({ values: async function* () {
			yield file("one.yaml", "title: One\nkey: C\nchart: '| C |'\n");
			yield file("photo.png", "no exercise");
			yield file("two.yaml", "title: Two\nkey: C\nchart: '| G |'\n");
		} });`)
	b.press("Open folder…")
	b.until(`document.querySelector("#exercise").value.startsWith("title: Two")`)
	names := `[...document.querySelector(".shelf .field select").options].map((o) => o.innerText).join()`
	b.until(names + `.includes("one.yaml") && !` + names + `.includes("photo")`)
	b.write("title: Two Again\nkey: C\nchart: '| G |'\n")
	b.press("Save")
	b.until(`saved["two.yaml"]?.startsWith("title: Two Again")`)
	assert.Equal(t, "Saved as two.yaml", b.text(".shelf .hint"))

	b.script(`
		const carried = new DataTransfer();
		carried.items.add(new File(["title: Dropped\nkey: C\nchart: '| F |'\n"], "dropped.yaml"));
		dispatchEvent(new DragEvent("drop", { dataTransfer: carried, cancelable: true }));`)
	b.until(`document.querySelector("#exercise").value.startsWith("title: Dropped")`)
	b.script(`
		const carried = new DataTransfer();
		carried.items.add(new File(["#".repeat(2e6)], "huge.yaml"));
		dispatchEvent(new DragEvent("drop", { dataTransfer: carried, cancelable: true }));`)
	b.until(`document.querySelector(".notice").innerText.includes("huge.yaml")`)
	assert.Contains(t, b.value(), "title: Dropped")
}

// A storage that is full is told, with what to do about it.
func TestAFullStorageIsTold(t *testing.T) {
	b := open(t, workbench(t), `
		const put = IDBObjectStore.prototype.put;
		window.full = false;
		IDBObjectStore.prototype.put = function (...args) {
			if (window.full) throw new DOMException("no room", "QuotaExceededError");
			return put.apply(this, args);
		};`)
	b.until(kept)
	b.script("full = true")
	b.write("title: Door\nkey: C\nchart: '| C |'\n")
	b.until(`document.querySelector(".notice").innerText.includes("storage is full: save this exercise as a file")`)
	b.script("full = false")
	b.write("title: Door\nkey: C\nchart: '| C | G |'\n")
	b.until(kept)
	assert.Empty(t, b.text(".notice"))
}

// The fields for more than one line, and those of the line's group, keep the text
// around them.
func TestMoreFieldsWriteIntoTheText(t *testing.T) {
	b := open(t, workbench(t), "")
	b.write("title: Door\nkey: C\nchart: '| C |' # short\n")
	for name, value := range map[string]string{"Variant of the line": "2", "By": "The teacher", "Note to the student": "Slowly.\n\nThen faster."} {
		b.field(name, value)
	}
	for _, want := range []string{"chart: '| C |' # short\n", "by: The teacher\n", "line:\n  variant: 2\n", "note: |\n  Slowly.\n\n  Then faster.\n"} {
		assert.Contains(t, b.value(), want)
	}
	b.field("Note to the student", "Only this.")
	assert.Contains(t, b.value(), "note: Only this.\n")
	assert.NotContains(t, b.value(), "Slowly")
	b.field("Note to the student", "")
	assert.NotContains(t, b.value(), "note")
}

// What takes long can be stopped, and what is written then is arranged.
func TestWhatTakesLongCanBeStopped(t *testing.T) {
	b := open(t, workbench(t), "")
	b.enter("#exercise", "title: Long\nkey: C major\nchart: |\n"+strings.Repeat("  | C | Am | Dm G | G7 |\n", 1024))
	b.press("Stop arranging")
	b.until(`document.querySelector(".findings").innerText.includes("it was stopped")`)
	b.write("title: Short\nkey: C major\nchart: '| C | G |'\n")
	require.Equal(t, "No mistakes", b.text("#findings-count"))
}
