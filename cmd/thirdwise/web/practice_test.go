package web_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"testing"
	"time"

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
	b := open(t, practice(t, "small-gate", s), ear)
	b.press("Play")
	b.listen(4.5)
	_, left, right := b.heard()
	b.press("Pause")

	var want stream
	from := player.New(s, rate, gain)
	for bar := -1; bar < 3; bar++ {
		want.add(t, from, s, bar, 240, every)
	}
	first := begins(left)
	require.Positive(t, first)
	offset := first
	for math.Abs(want.left[first-offset]) <= 1e-6 {
		offset-- // the stream's own first sample may be silent
	}
	compared := min(want.next, len(left)-offset)
	require.Greater(t, compared, 3*rate)
	for i := range compared {
		require.InDelta(t, want.left[i], left[offset+i], 1e-5, "frame %d", i)
		require.InDelta(t, want.right[i], right[offset+i], 1e-5, "frame %d", i)
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
// one until a bar begins, and from there in the new one.
func TestTempoChangesAtABar(t *testing.T) {
	s := small(t)
	b := open(t, practice(t, "small-gate", s), ear)
	b.do(chromedp.WaitReady(chromedp.CSS(`html[data-made="true"]`)))
	b.press("Click alone")
	b.press("Play")
	b.listen(2.5)
	b.enter("#tempo", "150")
	const newBeat = 60.0 / 150 // seconds
	var (
		left    []float32
		after   []float64 // seconds from stroke to stroke in the new tempo
		changed int       // the first stroke of it
	)
	for range 40 { // a busy machine has the new bar ready later
		b.listen(1)
		_, more, _ := b.heard()
		left, after = append(left, more...), nil
		strokes := onsets(left)
		for i := 1; i < len(strokes); i++ {
			gap := float64(strokes[i]-strokes[i-1]) / rate
			switch {
			case after != nil:
				after = append(after, gap)
			case math.Abs(gap-newBeat) < 0.003:
				changed, after = i-1, []float64{gap}
			default: // at the beginning a busy machine may wait
				require.Greater(t, gap, 60.0/240-0.003, "stroke %d", i)
			}
		}
		if len(after) > 6 {
			break
		}
	}
	require.Greater(t, len(after), 6)
	slices.Sort(after)
	assert.InDelta(t, newBeat, after[0], 0.003)
	assert.InDelta(t, newBeat, after[len(after)/2], 0.003)
	assert.Zero(t, changed%4, "the first stroke in the new tempo is the first of a bar")
}

// Two bars go round ten times without a seam: each round has the same samples as
// the one before, exactly as many frames later as two bars last.
func TestTwoBarsGoRoundWithoutASeam(t *testing.T) {
	s := arrangetest.Score(t, "title: Short Bars\nkey: C major\nmeter: 2/4\nchart: '| C | Am | F | G7 |'\nbass: root-fifth\n")
	b := open(t, practice(t, "small-gate", s), ear)
	b.enter(".loop-to", "3")
	b.enter(".loop-from", "2")
	b.enter(".count-in", "none")
	b.enter("#tempo", "400")
	b.do(chromedp.WaitReady(chromedp.CSS(`html[data-made="true"]`))) // however busy the machine is
	b.press("Play")
	b.listen(9.5)
	_, left, right := b.heard()

	around := player.Once(s, 400, false).Sample(2*s.Meter.Bar(), rate)
	first := begins(left)
	require.Positive(t, first)
	first += 4 * around // on a busy machine the beginning may wait for the engine
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
	b := open(t, practice(t, "small-gate", s), ear)
	b.press("Play")
	b.do(chromedp.WaitReady(chromedp.CSS(`[aria-current="true"]`))) // the count-in is over
	type moment struct {
		Lit     []string
		Seconds float64 // of the audio context, as it is heard
	}
	var moments []moment
	for range 10 {
		moments = append(moments, evaluate[moment](b, `new Promise((resolve) => requestAnimationFrame(() => {
			const stamp = ear.context.getOutputTimestamp();
			resolve({
				lit: [...document.querySelectorAll('[aria-current="true"]')].map((e) => e.dataset.third),
				seconds: stamp.contextTime + (performance.now() - stamp.performanceTime) / 1000,
			});
		}))`))
		time.Sleep(170 * time.Millisecond)
	}
	begun, left, _ := b.heard()
	start := begun + begins(left)

	performance := player.Once(s, 240, false)
	bar := performance.Sample(s.Meter.Bar(), rate)
	for _, m := range moments {
		require.Len(t, m.Lit, 1)
		lit, err := strconv.Atoi(m.Lit[0])
		require.NoError(t, err)
		within := false
		for _, slack := range []float64{-0.03, 0, 0.03} {
			frame := int((m.Seconds+slack)*rate) - start - bar // from bar one
			tick := int(float64(frame) / float64(bar) * float64(s.Meter.Bar()))
			sounding := 0
			for i, third := range s.Line {
				if third.Tick <= (tick+s.Length())%s.Length() {
					sounding = i + 1
				}
			}
			within = within || sounding == lit
		}
		assert.True(t, within, "third %d is lit at %.3f s", lit, m.Seconds-float64(start+bar)/rate)
	}
}

// A part that is switched off is gone at once; the others play on.
func TestAPartIsMutedWhileItPlays(t *testing.T) {
	s := small(t)
	b := open(t, practice(t, "small-gate", s), ear)
	b.press("Play")
	b.listen(2.2)
	b.do(chromedp.Click(chromedp.Search(`//label[.="Chords"]`)))
	b.listen(0.3)
	b.heard()
	b.listen(1.5)
	_, left, _ := b.heard()

	var without stream
	from := player.New(s, rate, gain)
	var rest []score.Part
	for _, p := range every {
		if p != score.Chords {
			rest = append(rest, p)
		}
	}
	for bar := -1; bar < 24; bar++ {
		played := bar
		if bar >= 0 {
			played = bar % 4
		}
		without.add(t, from, s, played, 240, rest)
	}
	assert.Less(t, mismatch(without.left, left[:rate]), 1e-4)
}

// mismatch looks for the place of a stretch in a stream and returns how far its
// samples lie from the stream's there, at most.
func mismatch(stream []float64, stretch []float32) float64 {
	best := math.Inf(1)
	for at := 0; at+len(stretch) <= len(stream); at++ {
		worst := 0.0
		for i := 0; i < len(stretch) && worst < best; i += 7 {
			worst = max(worst, math.Abs(stream[at+i]-float64(stretch[i])))
		}
		best = min(best, worst)
	}
	return best
}

// The page can be played by keys alone.
func TestKeysAreEnough(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	tempo := func() string { return evaluate[string](b, `document.querySelector("#tempo").value`) }
	name := func() string { return evaluate[string](b, `document.querySelector(".play").innerText.trim()`) }
	require.Equal(t, "240", tempo())
	b.do(chromedp.KeyEvent("+"))
	assert.Equal(t, "244", tempo())
	b.do(chromedp.KeyEvent("-"), chromedp.KeyEvent("-"))
	assert.Equal(t, "236", tempo())
	b.do(chromedp.KeyEvent(" "))
	time.Sleep(2500 * time.Millisecond)
	assert.Equal(t, "Pause", name())
	b.do(chromedp.KeyEvent("["), chromedp.KeyEvent("w"))
	time.Sleep(200 * time.Millisecond)
	assert.Regexp(t, `^bar \d, [A-G].*, tempo 236$`, evaluate[string](b, `document.querySelector(".said").innerText`))
	b.do(chromedp.KeyEvent(" "))
	assert.Equal(t, "Play", name())
	for range 60 { // everything can be reached
		b.do(chromedp.KeyEvent(kb.Tab))
		if evaluate[string](b, `document.activeElement.innerText.trim()`) == "Play" {
			return
		}
	}
	t.Error("the tabulator does not come to Play")
}

// A page asks for nothing and has nothing to say to the console.
func TestPageIsAlone(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	b.press("Play")
	time.Sleep(2 * time.Second)
	b.press("Pause")
	b.mu.Lock()
	defer b.mu.Unlock()
	assert.Empty(t, b.requests)
	assert.Empty(t, b.messages)
}

// What an exercise says is text, whatever it looks like.
func TestTitlesAreNoMarkup(t *testing.T) {
	const title = `<img src=x onerror="document.title='taken'"></title><script>document.title='taken'</script>{engine}{piece}`
	s := small(t)
	s.Title = title
	b := open(t, practice(t, "small-gate", s), "")
	assert.Equal(t, title, evaluate[string](b, "document.title"))
	assert.Equal(t, title, evaluate[string](b, `document.querySelector("h1").textContent`))
	assert.Zero(t, evaluate[int](b, "document.images.length"))
}

// The sheet, the neck and the fields fit a telephone.
func TestPageFitsATelephone(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	for _, width := range []int64{360, 820, 1440} {
		b.do(chromedp.EmulateViewport(width, 760))
		assert.LessOrEqual(t, evaluate[int64](b, "document.documentElement.scrollWidth"), width, fmt.Sprint(width))
	}
}
