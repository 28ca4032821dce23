package line_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory/line"
)

// A part that is repeated has the same line each time, but for the way from its
// last arrival, and every rule of the line holds all the same.
func TestRepeatedPartHasOneLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyExercise(t)
		bars := e.segments[len(e.segments)-1].End / bar
		from := rapid.IntRange(0, bars-1).Draw(t, "from")
		to := rapid.IntRange(from+1, bars).Draw(t, "to")
		times := rapid.IntRange(2, 4).Draw(t, "times")
		e, part := repeated(e, from*bar, to*bar, times)

		thirds, err := e.maker.Line(e.segments)
		if err != nil {
			t.Skip("no line exists in this compass")
		}
		for i := range e.segments {
			checkLeg(t, e, thirds, i)
		}
		e.maker.Repeats = []line.RepeatedPart{part}
		thirds, err = e.maker.Line(e.segments)
		require.NoError(t, err)
		for i := range e.segments {
			checkLeg(t, e, thirds, i)
		}
		if !oneLine(thirds, part) {
			alone := e.maker
			alone.Closed, alone.Repeats = true, nil
			_, err := alone.Line(e.segments[part.First:][:part.Length])
			whole := part.Length*part.Times == len(e.segments) && !e.maker.Closed
			require.False(t, whole && err == nil, "the part goes round by itself, so it has one line")
			t.Skip("no line leads in, back and on as this part asks")
		}
		bySegment := sounding(thirds)
		for i := part.First + part.Length; i < part.First+part.Length*part.Times; i++ {
			before, now := bySegment[i-part.Length], bySegment[i]
			if (i-part.First)%part.Length == part.Length-1 {
				before, now = before[:1], now[:1]
			}
			require.Equal(t, before, now, "segment %d", i)
		}
	})
}

// repeated returns the exercise with what lies between two ticks played several
// times, and where its segments then are.
func repeated(e exercise, from, to, times int) (exercise, line.RepeatedPart) {
	var part line.RepeatedPart
	var all []line.Segment
	shift := 0
	for _, s := range e.segments {
		if s.Start >= from && s.Start < to {
			if part.Length == 0 {
				part.First = len(all)
			}
			part.Length++
		}
		all = append(all, s)
	}
	part.Times = times
	var out []line.Segment
	add := func(s line.Segment) {
		s.Start, s.End = s.Start+shift, s.End+shift
		out = append(out, s)
	}
	for _, s := range all[:part.First+part.Length] {
		add(s)
	}
	for range times - 1 {
		shift += to - from
		for _, s := range all[part.First : part.First+part.Length] {
			add(s)
		}
	}
	for _, s := range all[part.First+part.Length:] {
		add(s)
	}
	e.segments = out
	return e, part
}

// oneLine reports whether a part begins with the same arrival each time.
func oneLine(thirds []line.Third, part line.RepeatedPart) bool {
	bySegment := sounding(thirds)
	for n := range part.Times - 1 {
		if bySegment[part.First][0] != bySegment[part.First+(n+1)*part.Length][0] {
			return false
		}
	}
	return true
}

// sounding lists the staff steps of the thirds of each segment.
func sounding(thirds []line.Third) map[int][]int {
	steps := map[int][]int{}
	for _, third := range thirds {
		steps[third.Segment] = append(steps[third.Segment], third.Third.Staff())
	}
	return steps
}

// Four chords that go round have one line, which leads back to its beginning.
func TestFourChordsThatGoRoundHaveOneLine(t *testing.T) {
	key := mustKey(t, "C major")
	for density := 0; density <= 100; density += 10 {
		e := exercise{maker: maker(density, 240), segments: segmentsOf(t, key, bar, "C", "Am", "F", "G", "C")}
		e, part := repeated(e, 0, 4*bar, 3)
		e.maker.Repeats = []line.RepeatedPart{part}
		thirds, err := e.maker.Line(e.segments)
		require.NoError(t, err)
		steps := sounding(thirds)
		for i := 4; i < 12; i++ {
			before, now := steps[i-4], steps[i]
			if i == 11 {
				before, now = before[:1], now[:1]
			}
			assert.Equal(t, before, now, "chord %d at %d %%", i, density)
		}
	}
}
