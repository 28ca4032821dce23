package web_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/web/player"
)

// A stream is what a page should play: bars one after another.
type stream struct {
	left, right []float64
	next        int // frame at which the next bar begins
}

// add adds a bar, counted from 0, or a bar of click for -1.
func (s *stream) add(t testing.TB, from *player.Player, of *score.Score, bar, tempo int, parts []score.Part) {
	t.Helper()
	if bar < 0 {
		bar, parts = 0, []score.Part{score.Click}
	}
	made, err := from.Bar(bar, tempo, false, parts)
	require.NoError(t, err)
	const frames = 4096
	at := s.next // the bar's first beat comes synth.Lead frames later
	for blocks := made.Read(frames); blocks != nil; blocks = made.Read(frames) {
		for len(s.left) < at+frames {
			s.left, s.right = append(s.left, 0), append(s.right, 0)
		}
		for _, block := range blocks {
			if block == nil {
				continue
			}
			for i := range frames {
				s.left[at+i] += float64(block[i])
				s.right[at+i] += float64(block[frames+i])
			}
		}
		at += frames
	}
	performance := player.Once(of, tempo, false)
	s.next += performance.Sample(of.Meter.Bar(), rate)
}

// begins returns where the first sample is that is not silent.
func begins(samples []float32) int {
	for i, x := range samples {
		if math.Abs(float64(x)) > 1e-6 {
			return i
		}
	}
	return -1
}

var every = []score.Part{score.Click, score.Chords, score.GuideUpper, score.GuideLower, score.Bass}

// What a page plays is, sample for sample, what the engine's Go code makes
// natively: the count-in and then the bars, at the exercise's first tempo.
func TestPagePlaysTheScore(t *testing.T) {
	s := small(t)
	b := open(t, practice(t, "small-gate", s), device)
	b.play()
	b.pass(4.5)
	_, left, right := b.heard()

	var want stream
	from := player.New(s, rate, gain)
	for bar := -1; bar < 4; bar++ {
		want.add(t, from, s, bar, 240, every)
	}
	want.isHeard(t, left, right)
}

// An exercise whose click ends with the count-in is played so, and its groove is
// heard; the click can be switched on all the same.
func TestTheClickEndsWithTheCountIn(t *testing.T) {
	s := arrangetest.Score(t, exercise+"groove: shaker\nclick: count-in\n")
	b := open(t, practice(t, "small-gate", s), device)
	b.play()
	b.pass(3)
	_, left, right := b.heard()
	assert.False(t, evaluate[bool](b, `document.querySelector(".part input").checked`))

	var want stream
	from := player.New(s, rate, gain)
	for bar := -1; bar < 3; bar++ {
		want.add(t, from, s, bar, 240, append(slices.Clone(every[1:]), score.Groove))
	}
	want.isHeard(t, left, right)
}

// isHeard holds what was heard against the stream, from its first frame on.
func (s *stream) isHeard(t *testing.T, left, right []float32) {
	t.Helper()
	require.Greater(t, len(left), rate)
	// The page begins where the device stood when it was told to.
	first := begins(left)
	require.GreaterOrEqual(t, first, 0)
	offset := first - slices.IndexFunc(s.left, func(x float64) bool { return math.Abs(x) > 1e-6 })
	require.GreaterOrEqual(t, offset, 0)
	require.Less(t, len(left)-offset, s.next, "the stream is too short")
	for i := range len(left) - offset {
		require.InDelta(t, s.left[i], left[offset+i], 1e-5, "frame %d", i)
		require.InDelta(t, s.right[i], right[offset+i], 1e-5, "frame %d", i)
	}
}

// onsets finds the strokes of a click that sounds alone, in frames: where the
// sound rises out of silence.
func onsets(samples []float32) (at []int) {
	const quiet = rate / 12 // between two strokes at 400 beats per minute there is more
	last := -rate
	for i, x := range samples {
		if math.Abs(float64(x)) > 0.01 {
			if i-last > quiet {
				at = append(at, i)
			}
			last = i
		}
	}
	return at
}

// The tempo is changed while the page plays: the click goes on evenly in the old
// one until a bar begins, and from there evenly in the new one.
func TestTempoChangesAtABar(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	b.press("Click alone")
	b.play()
	b.pass(2.5)
	b.enter("#tempo", "150")
	b.pass(8)
	_, left, _ := b.heard()
	strokes := onsets(left)
	changed := 0 // strokes in the old tempo
	for i := 1; i < len(strokes); i++ {
		gap, beat := float64(strokes[i]-strokes[i-1])/rate, 60.0/240
		if changed > 0 || gap > 60.0/150-0.003 {
			beat = 60.0 / 150
			if changed == 0 {
				changed = i - 1
			}
		}
		assert.InDelta(t, beat, gap, 0.003, "stroke %d", i)
	}
	assert.Greater(t, changed, 8, "what was heard before the change stays as it was")
	assert.Greater(t, len(strokes)-changed, 10)
	assert.Zero(t, changed%4, "the first stroke in the new tempo is the first of a bar")
}

// Two bars go round ten times without a seam: each round has the same samples as
// the one before, exactly as many frames later as two bars last.
func TestTwoBarsGoRoundWithoutASeam(t *testing.T) {
	s := arrangetest.Score(t, "title: Short Bars\nkey: C major\nmeter: 2/4\nchart: '| C | Am | F | G7 |'\nbass: root-fifth\n")
	b := open(t, practice(t, "small-gate", s), device)
	b.enter(".loop-to", "3")
	b.enter(".loop-from", "2")
	b.enter(".count-in", "none")
	b.enter("#tempo", "400")
	b.play()
	b.pass(8)
	_, left, right := b.heard()

	around := player.Once(s, 400, false).Sample(2*s.Meter.Bar(), rate)
	first := begins(left) + 2*around // before it, there is no round to ring on
	rounds := (len(left) - first) / around
	require.GreaterOrEqual(t, rounds, 10)
	for i := first; i < first+(rounds-1)*around; i++ {
		require.InDelta(t, left[i], left[i+around], 1e-5, "frame %d of round %d", (i-first)%around, (i-first)/around+1)
		require.InDelta(t, right[i], right[i+around], 1e-5)
	}
}

// At ten moments the lit third is the one that is heard then, to 30 ms.
func TestTheRightThirdIsLit(t *testing.T) {
	s := small(t)
	b := open(t, practice(t, "small-gate", s), device)
	b.play()
	b.pass(1.05) // the count-in is over
	type moment struct {
		Lit     []string
		Seconds float64 // of the device
	}
	var moments []moment
	for range 10 {
		b.pass(0.37)
		moments = append(moments, evaluate[moment](b, `new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve({
			lit: [...document.querySelectorAll('.sheet .lit[id]')].map((e) => e.dataset.third),
			seconds: device.context.currentTime,
		}))))`))
	}
	first, left, _ := b.heard()
	start := first + begins(left) // of the count-in

	bar := player.Once(s, 240, false).Sample(s.Meter.Bar(), rate)
	sounding := func(frame int) string {
		tick := (frame - start - bar) * s.Meter.Bar() / bar % s.Length()
		for i, third := range s.Line {
			if tick >= third.Tick && tick < third.Tick+third.Length {
				return strconv.Itoa(i + 1)
			}
		}
		return ""
	}
	lit := 0
	for _, m := range moments {
		var right []string
		for _, slack := range []float64{-0.03, 0, 0.03} {
			right = append(right, sounding(int((m.Seconds+slack)*rate)))
		}
		assert.Contains(t, right, strings.Join(m.Lit, " "), "at %.3f s", m.Seconds)
		lit += len(m.Lit)
	}
	assert.Greater(t, lit, 5, "the line rests only now and then")
}

// A part that is switched off is gone at once; the others play on.
func TestAPartIsMutedWhileItPlays(t *testing.T) {
	s := small(t)
	b := open(t, practice(t, "small-gate", s), device)
	b.play()
	b.pass(2.2)
	first, begun, _ := b.heard()
	b.do(chromedp.Click(chromedp.Search(`//label[.="Chords"]`)))
	b.pass(0.1)
	b.heard()
	b.pass(1.5)
	at, left, _ := b.heard()

	var all, rest stream
	from := player.New(s, rate, gain)
	for bar := -1; bar < 4; bar++ {
		all.add(t, from, s, bar, 240, every)
		rest.add(t, from, s, bar, 240, slices.DeleteFunc(slices.Clone(every), func(p score.Part) bool { return p == score.Chords }))
	}
	offset := first + begins(begun) - slices.IndexFunc(all.left, func(x float64) bool { return math.Abs(x) > 1e-6 })
	apart := 0.0
	for i, x := range left {
		require.InDelta(t, rest.left[at-offset+i], x, 1e-5, "frame %d", i)
		apart = max(apart, math.Abs(all.left[at-offset+i]-float64(x)))
	}
	assert.Greater(t, apart, 0.01, "the chords would be heard")
}

// The page can be played by keys alone.
func TestKeysAreEnough(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), device)
	tempo := func() string { return evaluate[string](b, `document.querySelector("#tempo").value`) }
	require.Equal(t, "240", tempo())
	b.do(chromedp.KeyEvent("+"))
	assert.Equal(t, "244", tempo())
	b.do(chromedp.KeyEvent("-"), chromedp.KeyEvent("-"))
	assert.Equal(t, "236", tempo())
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector(".play").innerText.trim() === "Pause"`)
	b.pass(2.5)
	b.do(chromedp.KeyEvent("["), chromedp.KeyEvent("w"))
	b.until(`/^bar \d, [A-G].*, tempo 236$/.test(document.querySelector(".said").innerText)`)
	b.do(chromedp.KeyEvent(" "))
	b.until(`document.querySelector(".play").innerText.trim() === "Play"`)
	for range 60 { // everything can be reached
		b.do(chromedp.KeyEvent(kb.Tab))
		if evaluate[string](b, `document.activeElement.innerText.trim()`) == "Play" {
			return
		}
	}
	t.Error("the tabulator does not come to Play")
}

// A page plays on a real device, asks for nothing and has nothing to say to the
// console.
func TestPageIsAlone(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	b.press("Play")
	b.until(`document.querySelector(".count").innerText.startsWith("bar 3")`)
	b.press("Pause")
	b.isAlone()
}

// What an exercise says is text, whatever it looks like, and what is written from
// right to left does not turn round what stands beside it.
func TestTextsAreNoMarkup(t *testing.T) {
	const (
		backwards = "\u202e" // right-to-left override
		title     = `<img src=x onerror="document.title='taken'"></title><script>document.title='taken'</script>{engine}{piece}` + backwards
		section   = `<b onclick=alert(1)>A</b>` + backwards
	)
	s := small(t)
	s.Title, s.Bars[0].Section = title, section
	s.Handout.Note = []string{`</script><script>document.title='taken'</script>` + backwards}
	s.Handout.By, s.Handout.Subtitle = `<style>*{display:none}</style>`, `"><svg onload=alert(1)>`
	b := open(t, practice(t, "small-gate", s), "")
	assert.Equal(t, title, evaluate[string](b, "document.title"))
	assert.Equal(t, title, evaluate[string](b, `document.querySelector("h1").textContent`))
	assert.Zero(t, evaluate[int](b, `document.querySelectorAll("img, b, [onclick], [onload], body style").length`))
	b.do(chromedp.KeyEvent("w"))
	b.until(`document.querySelector(".said").innerText !== ""`)
	assert.Equal(t, "\u2068"+section+"\u2069, bar 1, C, tempo 240", evaluate[string](b, `document.querySelector(".said").textContent`))
	b.isAlone()
}

// The page's policy stops whatever the page does not hold itself.
func TestThePolicyIsStrict(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	stopped := evaluate[[]string](b, `new Promise((resolve) => {
		const stopped = [];
		addEventListener("securitypolicyviolation", (event) => {
			stopped.push(event.effectiveDirective);
			if (stopped.length === 6) resolve(stopped.sort());
		});
		const add = (tag, attributes, text = "") => document.body.append(Object.assign(document.createElement(tag), attributes, { textContent: text }));
		add("script", {}, "window.taken = true");
		add("script", { src: "https://example.invalid/x.js" });
		add("style", {}, "body { display: none }");
		add("img", { src: "https://example.invalid/x.png" });
		add("iframe", { src: "https://example.invalid/" });
		fetch("https://example.invalid/").catch(() => {});
	})`)
	assert.Equal(t, []string{"connect-src", "frame-src", "img-src", "script-src-elem", "script-src-elem", "style-src-elem"}, stopped)
	assert.True(t, evaluate[bool](b, "window.taken === undefined"))
}

// The sheet, the neck and the fields fit a telephone.
func TestPageFitsATelephone(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	for _, width := range []int64{360, 820, 1440} {
		b.do(chromedp.EmulateViewport(width, 760))
		assert.LessOrEqual(t, evaluate[int64](b, "document.documentElement.scrollWidth"), width, fmt.Sprint(width))
	}
}
