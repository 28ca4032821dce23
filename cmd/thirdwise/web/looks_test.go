package web_test

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// Who practises on a telephone reads what the teacher says, too; who is told nothing has
// no empty panel.
func TestTheTeachersNoteIsOnThePracticePage(t *testing.T) {
	told := arrangetest.Score(t, exercise+"note: |\n  Slowly at first.\n\n  Then <faster>.\n")
	b := open(t, practice(t, "small-gate", told), "")
	assert.Equal(t, []string{"From your teacher", "Slowly at first.", "Then <faster>."}, evaluate[[]string](b,
		`[...document.querySelector(".panel").querySelectorAll("h2, p")].map((part) => part.innerText)`), "and it is open")
	b = open(t, practice(t, "small-gate", small(t)), "")
	assert.NotContains(t, b.text(".panels"), "From your teacher")
}

// In colours that the reader has set for all programs the music is seen, whatever the page
// itself is set to, and so is what is chosen.
func TestMusicIsSeenInColoursOfTheReaders(t *testing.T) {
	for name, file := range map[string]string{"practice": practice(t, "small-gate", small(t)), "workbench": workbench(t)} {
		b := open(t, file, "")
		b.do(chromedp.WaitReady(chromedp.CSS(".music")))
		_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}},
		})
		require.NoError(t, err)
		b.until(`matchMedia("(forced-colors: active)").matches`)
		for _, light := range []string{"light", "dark", ""} {
			b.script(`document.documentElement.dataset.light = "` + light + `"`)
			assert.Empty(t, evaluate[[]string](b, `(() => {
				const probe = document.createElement("p");
				document.body.append(probe);
				const system = (name) => ((probe.style.cssText = "forced-color-adjust: none; color: " + name), getComputedStyle(probe).color);
				const color = (part, what) => getComputedStyle(document.querySelector(part))[what];
				const wrong = [
					[".music", "color", "CanvasText"], [".sheet", "backgroundColor", "Canvas"], [".grip-drawing .finger", "fill", "CanvasText"],
					['[data-tempo][aria-pressed="true"]', "backgroundColor", "Highlight"], ['[data-tempo][aria-pressed="true"]', "color", "HighlightText"],
				].filter(([part, what, want]) => color(part, what) !== system(want)).map(([part, what]) => part + " " + what + " " + color(part, what));
				probe.remove();
				return wrong;
			})()`), "%s, %q", name, light)
		}
	}
}

// On a tablet on its side the workbench has the music beside the text; upright, with the
// settings folded, not far below.
func TestTheWorkbenchFitsATablet(t *testing.T) {
	b := open(t, workbench(t), "")
	for _, window := range [][2]int64{{1024, 768}, {1180, 820}, {768, 1024}} {
		b.do(chromedp.EmulateViewport(window[0], window[1], chromedp.EmulateTouch))
		b.do(chromedp.Reload())
		b.do(chromedp.WaitReady(chromedp.CSS("html[data-ready] .music")))
		places := evaluate[[]float64](b, `[".editor", ".sheet", ".dock"].flatMap((part) => {
			const box = document.querySelector(part).getBoundingClientRect();
			return [box.top, box.right, box.bottom, box.left];
		})`)
		editor, sheet, dock := places[:4], places[4:8], places[8:]
		if window[0] < window[1] {
			assert.Less(t, sheet[0]-editor[2], 500.0, "%v", window)
			continue
		}
		assert.Greater(t, sheet[3], editor[1], "%v: beside the text", window)
		assert.Greater(t, min(sheet[2], dock[0])-sheet[0], 240.0, "%v: a row of it is seen", window)
		assert.Less(t, dock[2]-dock[0], 80.0, "%v: what is at hand stands in one line", window)
	}
}

// A finding that is about a chord, and not about a letter of it, marks the chord.
func TestAFindingMarksTheWordThatItIsAbout(t *testing.T) {
	b := open(t, workbench(t), "")
	b.write("title: Stretch\nkey: Bb major\nchart: |\n  | Cm7 | F7 |\nline: {own: {1: C4 - - - - - - -}}\nguitar: {position: 5}\n")
	require.Contains(t, b.text(".findings"), "is a stretch")
	assert.Contains(t, evaluate[[]string](b, `[...document.querySelectorAll(".mark.warning")].map((mark) => mark.textContent)`), "Cm7", b.text(".findings"))
	b.script(`document.querySelector(".findings .warning .place").click()`)
	assert.Equal(t, "Cm7", evaluate[string](b, `(() => {
		const text = document.querySelector("#exercise");
		return text.value.slice(text.selectionStart, text.selectionEnd);
	})()`))
}

// Behind a capo the page calls chords as the hand knows them, by their shapes, as the sheet
// does; without one by their names.
func TestChordsBehindACapoAreCalledByTheirShapes(t *testing.T) {
	s := arrangetest.Score(t, exercise+"guitar: {capo: 5}\n")
	require.Equal(t, "G (C)", s.Bars[0].Chords[0].Label())
	b := open(t, practice(t, "small-gate", s), device)
	assert.Equal(t, "G", b.text(".chord-now"))
	b.play()
	b.pass(1.2)
	b.until(`document.querySelector(".chord-after").innerText === "Em"`)
	b.script(`[...document.querySelectorAll("details")].forEach((d) => (d.open = true))`)
	b.until(`document.querySelector("ul.in-words li") !== null`)
	assert.Contains(t, b.text("ul.in-words"), "G, sounding C: string 6 fret 3")
	assert.Contains(t, b.text("ol.in-words"), "Bar 1. Beat 1: G; ")

	b = open(t, practice(t, "small-gate", small(t)), "")
	assert.Equal(t, "C", b.text(".chord-now"))
}

// On a telephone, whose neck is small, the frets' numbers and the strings' names can be read.
func TestTheNeckIsReadOnATelephone(t *testing.T) {
	for name, settings := range map[string]string{"guitar": "", "bass": "guitar: {tuning: E1 A1 D2 G2, position: 2}\n"} {
		b := open(t, practice(t, "small-gate", arrangetest.Score(t, exercise+settings)), "")
		b.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateTouch))
		assert.Empty(t, evaluate[[]string](b, `[...document.querySelectorAll(".neck-drawing .number, .neck-drawing .open")]
			.map((text) => text.textContent + " " + text.getBoundingClientRect().height).filter((text) => parseFloat(text.split(" ")[1]) < 9.5)`), name)
	}
}

// The bars of a section that is the whole chart are offered once to go round.
func TestTheWholeChartIsOfferedOnce(t *testing.T) {
	const chart = "title: Gate\nkey: C major\nchart: '[Verse] | C | Am | F | G | C | Am | F | G |'\n"
	b := open(t, practice(t, "gate", arrangetest.Score(t, chart)), "")
	assert.Equal(t, []string{"Whole chart", "Bars 1–4", "Bars 5–8"}, evaluate[[]string](b,
		`[...document.querySelectorAll("[data-range]")].map((button) => button.innerText)`))
}

// Who writes into an exercise that its click ends with the count-in hears it end, and who
// takes that back hears it again.
func TestTheWorkbenchsClickIsThatOfTheText(t *testing.T) {
	b := open(t, workbench(t), "")
	for _, c := range []struct {
		click string
		on    bool
	}{{"always", true}, {"count-in", false}, {"always", true}} {
		b.write(exercise + "groove: shaker\nclick: " + c.click + "\n")
		b.follow()
		assert.Equal(t, c.on, evaluate[bool](b, `document.querySelector(".part input[type=checkbox]").checked`), c.click)
	}
}
