package smf

import (
	"testing"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
	"thirdwise/theory/theorytest"
)

func arrangeMeter(beats, unit int) meter.Meter { return meter.Meter{Beats: beats, Unit: unit} }

// twice returns the score followed by itself.
func twice(s *score.Score) *score.Score {
	out, length := *s, s.Length()
	for _, bar := range s.Bars {
		bar.Tick += length
		spans := bar.Chords
		bar.Chords = nil
		for _, span := range spans {
			span.Tick += length
			bar.Chords = append(bar.Chords, span)
		}
		out.Bars = append(out.Bars, bar)
	}
	for _, third := range s.Line {
		third.Tick += length
		out.Line = append(out.Line, third)
	}
	for _, strum := range s.Strums {
		strum.Tick += length
		out.Strums = append(out.Strums, strum)
	}
	return &out
}

// exercises returns the scores of the exercises under testdata, without a bass
// and with one.
func exercises(t testing.TB) []*score.Score {
	var scores []*score.Score
	for _, e := range arrangetest.Exercises(t) {
		for _, bass := range []exercise.Bass{exercise.NoBass, exercise.Walking} {
			e.Bass = bass
			scores = append(scores, arrangetest.Arrange(t, e))
		}
	}
	return scores
}

// steps is two bars in G major: G, then Em and N.C., the chords strummed in
// quarters, the line in quarters and eighths.
func steps(t testing.TB) *score.Score {
	return &score.Score{
		Title:  "Two Steps Down",
		Key:    theorytest.Key(t, "G major"),
		Meter:  meter.Meter{Beats: 4, Unit: 4},
		Tempos: []int{60, 90},
		Passes: 2,
		Neck:   neck.Neck{Tuning: neck.Standard()},
		Bars: []score.Bar{
			{Tick: 0, Section: "A", Chords: []score.ChordSpan{{Tick: 0, Length: 1920, Chord: theorytest.Chord(t, "G")}}},
			{Tick: 1920, Written: 1, Chords: []score.ChordSpan{
				{Tick: 1920, Length: 960, Chord: theorytest.Chord(t, "F#m7b5/C")},
				{Tick: 2880, Length: 960, None: true},
			}},
		},
		Line: []score.Third{
			third(t, 0, 1440, "G4", "B4"),
			third(t, 1440, 240, "F#4", "A4"),
			third(t, 1680, 240, "E4", "G4"),
			third(t, 1920, 960, "E4", "G4"),
		},
		Strums: []score.Strum{
			strum(t, 0, 960, "G2", "B2", "D3", "G3", "B3", "G4"),
			strum(t, 960, 960, "G2", "B2", "D3", "G3", "B3", "G4"),
			strum(t, 1920, 960, "E2", "B2", "E3", "B3", "B3", "E4"), // B3 on two strings
		},
	}
}

// stepsPlayed plays the score once at 60 beats a minute and, one bar of click
// later, at 90, with every string of a strum 7 ticks behind the one before and
// ringing on over the next strum.
func stepsPlayed(t testing.TB, s *score.Score) *score.Performance {
	p := &score.Performance{
		Tempos:   []score.TempoChange{{Tick: 0, QuarterMicros: 1_000_000}, {Tick: 5760, QuarterMicros: 666_667}},
		Length:   2 * 5760,
		End:      2*5760 + 720,
		CountIns: []int{0, 5760},
	}
	for tick := 0; tick < p.Length; tick += 480 {
		p.Click = append(p.Click, score.ClickStroke{Tick: tick, Accent: tick%1920 == 0, Velocity: 100})
	}
	for pass, at := range []int{1920, 7680} {
		for i, bar := range s.Bars {
			p.Bars = append(p.Bars, score.PlayedBar{Tick: at + bar.Tick, Index: i, Pass: pass + 1, Label: score.BarLabel(i+1, pass+1)})
		}
		for _, strum := range s.Strums {
			for i, n := range strum.Notes {
				p.Notes = append(p.Notes, score.Note{Tick: at + strum.Tick + 7*i, Length: 1100 - 20*i, Pitch: n.Pitch,
					Velocity: 70 + i, Part: score.Chords, Pass: pass + 1})
			}
		}
		for _, third := range s.Line {
			p.Notes = append(p.Notes,
				score.Note{Tick: at + third.Tick, Length: third.Length, Pitch: third.Notes.Lower, Velocity: 90, Part: score.GuideLower, Pass: pass + 1},
				score.Note{Tick: at + third.Tick, Length: third.Length, Pitch: third.Notes.Upper, Velocity: 95, Part: score.GuideUpper, Pass: pass + 1})
		}
	}
	return p
}

func third(t testing.TB, tick, length int, lower, upper string) score.Third {
	return score.Third{Tick: tick, Length: length, Notes: theory.Third{Lower: theorytest.Pitch(t, lower), Upper: theorytest.Pitch(t, upper)}}
}

func strum(t testing.TB, tick, length int, pitches ...string) score.Strum {
	s := score.Strum{Tick: tick, Length: length}
	for _, p := range pitches {
		s.Notes = append(s.Notes, score.StrumNote{Pitch: theorytest.Pitch(t, p)})
	}
	return s
}
