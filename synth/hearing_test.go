package synth

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/synth/loudness"
	"thirdwise/synth/soundtest"
)

// mono returns the sum of both sides of a track, full scale 1.
func mono(r recorded) []float32 {
	sum := make([]float32, len(r.left))
	for i, l := range r.left {
		sum[i] = float32(l+r.right[i]) / (1 << 24)
	}
	return sum
}

// Measured the same way, the chords of a sampled steel-string guitar have −15 and
// −19 dB (a free General MIDI sound font; .ci/checks/timbre).
func TestChordsHaveTreble(t *testing.T) {
	chords := mono(recordedPractice(t)[score.ChordsAlone])
	chords = chords[frameOf(1920, 600_000, 44100):]
	four, eight := soundtest.Octave(chords, 4000, 44100), soundtest.Octave(chords, 8000, 44100)
	t.Logf("octaves at 4 and 8 kHz: %.1f and %.1f dB", four, eight)
	assert.GreaterOrEqual(t, four, -18.0)
	assert.GreaterOrEqual(t, eight, -24.0)
	assert.Less(t, eight, -15.0, "nor does it hiss")
}

// A telephone passes 300 Hz and more (ITU-T G.712; from memory): what it leaves of the
// bass is at most 6 LU less.
func TestBassIsHeardOnATelephone(t *testing.T) {
	bass := mono(recordedPractice(t)[score.BassAlone])
	whole, above := loudness.NewMeter(44100), loudness.NewMeter(44100)
	passed := highPass(highPass(bass, 300, 44100), 300, 44100)
	for at := 0; at+1000 <= len(bass); at += 1000 {
		_ = whole.Write(bass[at:at+1000], bass[at:at+1000])
		_ = above.Write(passed[at:at+1000], passed[at:at+1000])
	}
	less := above.Integrated() - whole.Integrated()
	t.Logf("above 300 Hz: %.1f LU", less)
	assert.GreaterOrEqual(t, less, -6.0)
}

// highPass is a second-order Butterworth filter by the bilinear transform (from memory).
func highPass(x []float32, hertz, rate float64) []float32 {
	k := math.Tan(math.Pi * hertz / rate)
	norm := 1 / (1 + k*math.Sqrt2 + k*k)
	a1, a2 := 2*(k*k-1)*norm, (1-k*math.Sqrt2+k*k)*norm
	out := make([]float32, len(x))
	var x1, x2, y1, y2 float64
	for i, v := range x {
		y := norm*(float64(v)-2*x1+x2) - a1*y1 - a2*y2
		x2, x1, y2, y1 = x1, float64(v), y1, y
		out[i] = float32(y)
	}
	return out
}

func energy(samples []float32) float64 {
	sum := 0.0
	for _, x := range samples {
		sum += float64(x) * float64(x)
	}
	return sum
}

func decibels(power float64) float64 { return 10 * math.Log10(power) }

// bark are the edges of the ear's critical bands in Hz (E. Zwicker, Subdivision of the
// Audible Frequency Range into Critical Bands, JASA 33 (1961); from memory).
var bark = []float64{
	100, 200, 300, 400, 510, 630, 770, 920, 1080, 1270, 1480, 1720, 2000,
	2320, 2700, 3150, 3700, 4400, 5300, 6400, 7700, 9500, 12000, 15500,
}

// Each stroke of the click lies at least 6 dB above all else, a groove too, in four bands
// of the ear or more, for the first 40 ms.
func TestClickStandsOut(t *testing.T) {
	p := playAlong(2, 100)
	for name, mixed := range map[string][]recorded{
		"shaker": recordedPractice(t),
		"brush":  record(t, 44100, Track{Performance: brushed(p), Mix: score.Full}, Track{Performance: p, Mix: score.ClickAlone}),
	} {
		full, click := mono(mixed[0]), mono(mixed[1])
		if name == "shaker" {
			full, click = mono(mixed[score.Full]), mono(mixed[score.ClickAlone])
		}
		rest := make([]float32, len(full))
		for i := range rest {
			rest[i] = full[i] - click[i]
		}
		window := soundtest.Hann(2 * 1764)[1764:] // falls from the stroke on
		levels := func(samples []float32) []float64 {
			sums := make([]float64, len(bark))
			for i, power := range soundtest.Powers(samples, window, 2048) {
				for b := 1; b < len(bark); b++ {
					if f := float64(i) * 44100 / 2048; f >= bark[b-1] && f < bark[b] {
						sums[b] += power
					}
				}
			}
			return sums
		}
		fewest := len(bark)
		for _, c := range p.Click[4:] {
			at := p.Sample(c.Tick, 44100)
			loud, quiet := levels(click[at:]), levels(rest[at:])
			above := 0
			for b := range bark {
				if loud[b] > 4*quiet[b] && loud[b] > 0 {
					above++
				}
			}
			fewest = min(fewest, above)
		}
		t.Logf("%s: %d bands", name, fewest)
		assert.GreaterOrEqual(t, fewest, 4, name)
	}
}

// What a bar is and the same bar a pass later differ by more than a machine's would:
// the part of the chords, and all of it but the click.
func TestNoPassIsLikeTheOneBefore(t *testing.T) {
	s := arrangetest.Named(t, "porch-light")
	p := s.Perform(s.Tempo())
	recordings := record(t, 44100, Track{Performance: p, Mix: score.ChordsAlone}, Track{Performance: p, Mix: score.Full}, Track{Performance: p, Mix: score.ClickAlone})
	chords, full, click := mono(recordings[0]), mono(recordings[1]), mono(recordings[2])
	for i := range full {
		full[i] -= click[i]
	}
	for name, samples := range map[string][]float32{"chords": chords, "all": full} {
		var levels []float64
		for i := range len(s.Bars) - 1 { // the last one ends
			first, later := p.Sample(p.Bars[i].Tick, 44100), p.Sample(p.Bars[i+len(s.Bars)].Tick, 44100)
			length := p.Sample(p.Bars[i+1].Tick, 44100) - first
			bar, other := samples[first:first+length], samples[later:later+length]
			difference := make([]float32, length)
			for k := range difference {
				difference[k] = bar[k] - other[k]
			}
			levels = append(levels, decibels(energy(difference)/energy(bar)))
		}
		least := slices.Min(levels)
		t.Logf("%s: %.1f dB at least", name, least)
		assert.Greater(t, least, -15.0, name)
	}
}

// Where a third arrives on a note that a string of the chord sounds too, the guide is the
// louder of the two, so that a beginner knows which to follow: what sounds of that note,
// its first four partials, in the first quarter of a second.
func TestGuideIsHeardInUnison(t *testing.T) {
	var levels []float64
	for _, name := range []string{"porch-light", "goat-meadow"} {
		s := arrangetest.Named(t, name)
		p := s.Loop(s.Tempo())
		recordings := record(t, 44100, Track{Performance: p, Mix: score.ChordsAlone},
			Track{Performance: p, Mix: score.GuideUpperAlone}, Track{Performance: p, Mix: score.GuideLowerAlone})
		chords := mono(recordings[0])
		voices := map[score.Part][]float32{score.GuideUpper: mono(recordings[1]), score.GuideLower: mono(recordings[2])}
		for _, n := range p.Notes {
			guide := voices[n.Part]
			if guide == nil || !struckAlong(p, n) {
				continue
			}
			at := min(p.Sample(n.Tick, 44100), len(chords)-11025)
			levels = append(levels, decibels(partialsOf(guide[at:], n)/partialsOf(chords[at:], n)))
		}
	}
	slices.Sort(levels)
	t.Logf("%d unisons, median %.1f dB", len(levels), levels[len(levels)/2])
	assert.GreaterOrEqual(t, levels[len(levels)/2], 7.0)
}

// struckAlong reports whether a string of the chords sounds a note's key from about its
// beginning on.
func struckAlong(p *score.Performance, n score.Note) bool {
	for _, other := range p.Notes {
		apart := p.Sample(other.Tick, 1000) - p.Sample(n.Tick, 1000)
		if other.Part == score.Chords && other.Pitch.MIDI() == n.Pitch.MIDI() && apart > -30 && apart < 50 {
			return true
		}
	}
	return false
}

// partialsOf returns the power that a signal has at the first four partials of a note.
func partialsOf(samples []float32, n score.Note) (power float64) {
	first := 440 * math.Exp2(float64(n.Pitch.MIDI()-69)/12)
	powers := soundtest.Powers(samples, soundtest.Hann(11025), 1<<14)
	for partial := 1.0; partial <= 4; partial++ {
		middle := int(partial * first * (1 << 14) / 44100)
		for _, bin := range powers[middle-4 : middle+5] {
			power += bin
		}
	}
	return power
}
