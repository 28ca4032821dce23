package captions

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// The form of a timing line, from the syntax of W3C WebVTT, section 4.
var timing = regexp.MustCompile(`^(\d\d):([0-5]\d):([0-5]\d)\.(\d{3}) --> (\d\d):([0-5]\d):([0-5]\d)\.(\d{3})$`)

// A vttCue is a cue as a reader of the format sees it.
type vttCue struct {
	from, to int // milliseconds
	text     string
}

func readCaptions(t *testing.T, text string) []vttCue {
	blocks := strings.Split(strings.TrimRight(text, "\n"), "\n\n")
	require.Equal(t, "WEBVTT", blocks[0])
	var cues []vttCue
	for _, block := range blocks[1:] {
		head, body, _ := strings.Cut(block, "\n")
		if head == "STYLE" {
			continue
		}
		parts := timing.FindStringSubmatch(head)
		require.NotNil(t, parts, head)
		ms := func(i int) int {
			n := 0
			for j, unit := range []int{3_600_000, 60_000, 1000, 1} {
				v, err := strconv.Atoi(parts[i+j])
				require.NoError(t, err)
				n += v * unit
			}
			return n
		}
		cues = append(cues, vttCue{ms(1), ms(5), body})
	}
	return cues
}

func TestCaptionsFollowTheChords(t *testing.T) {
	s := arrangetest.Named(t, "porch-light")
	p := s.Perform(60)
	var b bytes.Buffer
	require.NoError(t, WriteChords(&b, paper.Notate(s), p))
	cues := readCaptions(t, b.String())
	// Half a second of silence; at 60 beats a minute a bar of 4/4 lasts 4,000 ms.
	assert.Equal(t, vttCue{0, 4500, "count-in"}, cues[0])
	assert.Equal(t, vttCue{4500, 8500, "C\nbar 1"}, cues[1])
	assert.Equal(t, vttCue{28500, 30500, "Dm\nbar 7"}, cues[7])
	assert.Equal(t, vttCue{30500, 32500, "G\nbar 7"}, cues[8])
	assert.Len(t, cues, 1+2*10)
}

func TestCaptionsHaveTheTabOfEachBar(t *testing.T) {
	for name, s := range arrangetest.Scores(t) {
		for _, p := range []*score.Performance{s.Perform(80), s.Loop(80)} {
			var b bytes.Buffer
			require.NoError(t, WriteTab(&b, paper.Notate(s), p))
			cues := readCaptions(t, b.String())
			lead := 0
			if p.Bars[0].Tick > 0 {
				lead = 1
			}
			require.Len(t, cues, lead+len(p.Bars), name)
			for i, cue := range cues[lead:] {
				require.Equal(t, s.Neck.Strings()+2, strings.Count(cue.text, "\n")+1)
				require.Equal(t, p.Sample(p.Bars[i].Tick, 1000), cue.from)
				// An ampersand begins a character reference (W3C WebVTT, section 4).
				require.Equal(t, strings.Count(cue.text, "&amp;"), strings.Count(cue.text, "&"))
			}
		}
	}
}

// writers write the captions of a performance, of either kind.
func writers(s *score.Score, p *score.Performance) map[string]func(*bytes.Buffer) error {
	return map[string]func(*bytes.Buffer) error{
		"chords": func(b *bytes.Buffer) error { return WriteChords(b, paper.Notate(s), p) },
		"tab":    func(b *bytes.Buffer) error { return WriteTab(b, paper.Notate(s), p) },
	}
}

// Something is shown as long as anything is played: each caption stays until the
// next, and the last to the end of the last bar.
func TestCaptionsStayUntilTheNext(t *testing.T) {
	s := arrangetest.Named(t, "harbour-ladder")
	p := s.Perform(60)
	for name, write := range writers(s, p) {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		cues := readCaptions(t, b.String())
		for i := range len(cues) - 1 {
			assert.Equal(t, cues[i+1].from, cues[i].to, "%s: %q", name, cues[i].text)
		}
		last := p.Bars[len(p.Bars)-1]
		assert.Equal(t, p.Sample(last.Tick+s.Meter.Bar(), 1000), cues[len(cues)-1].to, name)
	}
}

// A caption changes with the sound, to the thousandth of a second that WebVTT has: at
// 97 beats a minute a beat lasts 60/97 s.
func TestCaptionsAreExact(t *testing.T) {
	s := arrangetest.Named(t, "porch-light")
	p := s.Perform(97)
	for name, write := range writers(s, p) {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		cues := readCaptions(t, b.String())
		first := cues[1].from
		odd := 0 // times that hundredths of a second could not say
		for _, cue := range cues[1:] {
			for _, at := range []int{cue.from, cue.to} {
				beats := math.Round(float64(at-first) * 97 / 60_000)
				assert.InDelta(t, beats*60_000/97, at-first, 1.1, "%s: %q", name, cue.text)
				if at%10 != 0 {
					odd++
				}
			}
		}
		assert.Greater(t, odd, len(cues), name)
	}
}

// Minutes and seconds go to 59 (W3C WebVTT, section 4), and hours as far as they must.
func TestLongPerformancesCountHours(t *testing.T) {
	w := newWriter(&bytes.Buffer{}, &score.Performance{Tempos: []score.TempoChange{{QuarterMicros: 1_000_000}}}, "")
	for seconds, want := range map[int]string{
		59: "00:00:59.000", 60: "00:01:00.000", 3599: "00:59:59.000", 3660: "01:01:00.000", 7199: "01:59:59.000", 36_000: "10:00:00.000",
	} {
		require.Equal(t, want, w.timestamp(seconds*meter.Quarter))
	}
}
