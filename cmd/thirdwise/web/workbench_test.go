package web_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit/kittest"
	"thirdwise/cmd/thirdwise/web"
	"thirdwise/cmd/thirdwise/web/bench"
)

// kept is true once what is written is kept in the browser.
const kept = `document.querySelector(".shelf .hint").innerText === "Kept in this browser"`

// workbench writes the workbench alone into an empty folder.
func workbench(t testing.TB) string {
	file := filepath.Join(t.TempDir(), "workbench.html")
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, web.WriteWorkbench(f))
	require.NoError(t, f.Close())
	return file
}

// write puts a text into the workbench and waits until it is arranged, after what was
// there before.
func (b *tab) write(text string) {
	b.t.Helper()
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
	b.script("delete document.documentElement.dataset.arranged")
	b.enter("#exercise", text)
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
}

// follow waits until what is heard is what is written.
func (b *tab) follow() {
	b.t.Helper()
	b.do(chromedp.WaitReady(chromedp.CSS(`html[data-followed="true"]`)))
}

// field puts a value into the field of a name.
func (b *tab) field(name, value string) {
	b.t.Helper()
	b.script(fmt.Sprintf(`
		const label = [...document.querySelectorAll("label")].find((l) => l.textContent === %q);
		const field = document.getElementById(label.htmlFor);
		field.value = %q;
		field.dispatchEvent(new Event(field.type === "range" ? "input" : "change"));`, name, value))
}

func (b *tab) text(selector string) string {
	b.t.Helper()
	return evaluate[string](b, fmt.Sprintf("document.querySelector(%q)?.innerText ?? ''", selector))
}

// From an empty page to a kit: what is downloaded holds, file for file and byte
// for byte, what the native program makes of the exercise.
func TestWorkbenchMakesTheKit(t *testing.T) {
	const text = "title: Side Door\nkey: G major\nchart: '| G | C | D7 | G |'\ntempos: [200]\npasses: 1\n"
	b := open(t, workbench(t), "")
	folder := b.downloads()
	b.write("")
	assert.NotEmpty(t, b.text(".findings"), "an empty exercise has mistakes")
	b.write(text)
	assert.Equal(t, "No mistakes", b.text("#findings-count"), b.text(".findings"))
	b.enter(`.shelf input[type="text"]`, "side-door.yaml")
	b.press("Download kit")
	file := b.downloaded(folder, "side-door.zip")

	archive, err := zip.OpenReader(file)
	require.NoError(t, err)
	defer archive.Close()
	want, native := new(kittest.Memory), new(bench.Bench)
	_, err = native.Arrange("side-door.yaml", text, 60, "both", 0)
	require.NoError(t, err)
	require.NoError(t, native.Kit("side-door.yaml", web.Practice, []score.Mix{score.Full, score.Backing, score.Guide}, want, func(done, all int) {}))
	require.Len(t, archive.File, want.Len())
	for _, file := range archive.File {
		got, err := file.Open()
		require.NoError(t, err)
		content, err := io.ReadAll(got)
		require.NoError(t, err)
		name := strings.TrimPrefix(file.Name, "side-door/")
		assert.True(t, bytes.Equal(want.Bytes(name), content), name)
	}
}

// A mistake is told with its place, and what it proposes is written at a click.
func TestFindingsAreMendedAtAClick(t *testing.T) {
	b := open(t, workbench(t), "")
	b.write("title: Door\nkey: C major\nchart: |\n  | C | Am7x | # |\n")
	b.write("title: Door\nkey: C major\nchart: |\n  | C | Am7x | G |\n")
	assert.Equal(t, "1 mistake", b.text("#findings-count"))
	assert.Contains(t, b.text(".findings"), "Line 4")
	assert.Equal(t, "Am7x", evaluate[string](b, `document.querySelector(".mark").textContent`))
	b.script("delete document.documentElement.dataset.arranged")
	b.press("Write Am7")
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
	assert.Contains(t, evaluate[string](b, `document.querySelector("#exercise").value`), "| C | Am7 | G |")
	assert.Equal(t, "No mistakes", b.text("#findings-count"))

	b.write("title: [Side] Door\nkey: D major\nchart: |\n  | D | Hm | 3: G |\n")
	b.script("delete document.documentElement.dataset.arranged")
	b.script(`[...document.querySelectorAll(".remedy")].find((b) => b.innerText === 'Write title: "[Side] Door"').click()`)
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
	b.script("delete document.documentElement.dataset.arranged")
	b.press("Write Bm")
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
	b.script("delete document.documentElement.dataset.arranged")
	b.press("Leave it out")
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-arranged]")))
	assert.Equal(t, "title: \"[Side] Door\"\nkey: D major\nchart: |\n  | D | Bm |  G |\n", b.value())
	assert.Equal(t, "No mistakes", b.text("#findings-count"))
}

// Fields and tools write into the text and leave its comments alone; a step back
// takes back what they wrote, and all of it is there when the page comes again.
func TestFieldsWriteIntoTheText(t *testing.T) {
	file := workbench(t)
	b := open(t, file, "")
	text := b.value
	const first = "# for Tuesday\ntitle: Door\nkey: C major # as sung\nchart: |\n  | C | Am |\nline:\n  grid: eighths # to begin with\n"
	b.write(first)
	b.field("Grid", "sixteenths")
	b.field("Density", "75")
	b.field("Tempos", "70 90")
	assert.Equal(t, "# for Tuesday\ntitle: Door\nkey: C major # as sung\nchart: |\n  | C | Am |\nline:\n  density: 75%\n  grid: sixteenths # to begin with\ntempos: [70, 90]\n", text())
	b.field("Key: move to", "D")
	b.until(`document.querySelector("#exercise").value.includes("| D | Bm |")`)
	assert.Contains(t, text(), "key: D major # as sung\n")
	b.press("Add to the chart")
	assert.Contains(t, text(), "  | D | Bm |\n  | 1 | 6 | 2 | 5 |\n")
	b.press("Step back")
	b.press("Step back")
	assert.Contains(t, text(), "  | C | Am |\nline:")
	b.press("Step forward")
	moved := text()
	b.until(kept)

	b.do(chromedp.Navigate("file://"+file), chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
	assert.Equal(t, moved, text())
	for range 4 {
		b.press("Step back")
	}
	assert.Equal(t, first, text())
}

// What is written is heard while it plays, from a bar on, and nothing of it is
// markup.
func TestWorkbenchPlaysWhatIsWritten(t *testing.T) {
	b := open(t, workbench(t), device)
	b.write("title: <b>Door</b>\nkey: C major\nchart: '[<img src=x>] | C | Am |'\ntempos: [240]\n")
	assert.Zero(t, evaluate[int](b, "document.images.length"))
	assert.Equal(t, "false", evaluate[string](b, `String([...document.querySelectorAll(".music b, .music img")].length > 0)`))
	b.follow()
	b.play()
	b.pass(1.2)
	b.until(`document.querySelector(".chord-now").innerText === "C"`)
	b.write("title: Door\nkey: C major\nchart: '| F | G |'\ntempos: [240]\n")
	b.follow()
	b.pass(4)
	b.until(`["F", "G"].includes(document.querySelector(".chord-now").innerText)`)
	b.press("Pause")
	b.isAlone()
}

// Of two windows on one exercise, the later to write is told.
func TestTwoWindowsOnOneExercise(t *testing.T) {
	file := workbench(t)
	b := open(t, file, "")
	b.write("title: One\nkey: C major\nchart: '| C |'\n")
	b.until(kept)
	// Another window writes: here, another hand in the same storage.
	evaluate[chromedp.Void](b, `new Promise((resolve) => {
		const request = indexedDB.open("thirdwise", 1);
		request.onsuccess = () => {
			const objects = request.result.transaction("exercises", "readwrite").objectStore("exercises");
			objects.getAll().onsuccess = ({ target }) => {
				const [kept] = target.result.sort((a, b) => b.changed - a.changed);
				objects.put({ ...kept, version: kept.version + 1, text: "title: Two" }).onsuccess = resolve;
			};
		};
	})`)
	b.write("title: Three\nkey: C major\nchart: '| C |'\n")
	b.until(`document.querySelector(".notice").innerText !== ""`)
	assert.Contains(t, b.text(".notice"), "Another window has changed this exercise")
	b.press("Take what is there")
	b.until(`document.querySelector("#exercise").value === "title: Two"`)
}

// A window is told of another that has its exercise open, for as long as that is so; a page
// that is loaded again is no other.
func TestAnotherWindowIsToldWhileItIsOpen(t *testing.T) {
	b := open(t, workbench(t), "Date.now = () => 1e12;") // however long a busy machine takes to load
	b.write("title: One\nkey: C major\nchart: '| C |'\n")
	b.until(kept)
	again := func() {
		b.do(chromedp.Reload(), chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
		b.until(`document.querySelector("#exercise").value.startsWith("title: One")`)
	}
	again()
	assert.Empty(t, b.text(".notice"))
	const sign = `Object.keys(localStorage).find((key) => key.startsWith("thirdwise:window:"))`
	b.until(sign + ` !== undefined`)
	// Another window says so: here, another hand in the same storage.
	b.script(`const sign = ` + sign + `; addEventListener("pagehide", () => localStorage.setItem(sign, JSON.stringify({ window: "another", at: Date.now() })))`)
	again()
	b.until(`document.querySelector(".notice").innerText.includes("open in another window")`)
	b.script(`localStorage.removeItem(` + sign + `)`)
	b.until(`document.querySelector(".notice").innerText === ""`)
}

// What is too large is told so, and what takes long is left as soon as there is
// something newer.
func TestHugeTextsDoNotHang(t *testing.T) {
	b := open(t, workbench(t), "")
	b.write("title: Huge\nkey: C major\nchart: |\n" + strings.Repeat("  # | C | Am | Dm | G |\n", 60_000))
	assert.Contains(t, b.text(".findings"), "bytes")
	b.enter("#exercise", "title: Long\nkey: C major\nchart: |\n"+strings.Repeat("  | C | Am | Dm G | G7 |\n", 1024))
	b.write("title: Short\nkey: C major\nchart: '| C | G |'\n")
	assert.Equal(t, "No mistakes", b.text("#findings-count"))
	assert.Equal(t, 2, evaluate[int](b, `document.querySelectorAll(".music .bar").length`))
}
