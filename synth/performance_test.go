package synth

import (
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// grips are common practice: the open chords C, A minor, D minor and G that every
// beginner's book prints.
var grips = []neck.Grip{
	{neck.NotPlayed, 3, 2, 0, 1, 0},
	{neck.NotPlayed, 0, 2, 2, 1, 0},
	{neck.NotPlayed, neck.NotPlayed, 0, 2, 3, 1},
	{3, 2, 0, 0, 0, 3},
}

// thirds are a line for a test: frets of the lower note on the third string and of
// the upper one on the second.
var thirds = [][2]int{{0, 1}, {2, 3}, {4, 5}, {5, 6}, {4, 5}, {2, 3}, {0, 1}, {2, 3}}

// pitchOf returns a spelled pitch for a place on a neck in standard tuning.
func pitchOf(p neck.Place) theory.Pitch {
	key := neck.Neck{Tuning: neck.Standard()}.Key(p)
	tones := [12]theory.Tone{
		{Letter: theory.C}, {Letter: theory.C, Alter: 1}, {Letter: theory.D}, {Letter: theory.D, Alter: 1},
		{Letter: theory.E}, {Letter: theory.F}, {Letter: theory.F, Alter: 1}, {Letter: theory.G},
		{Letter: theory.G, Alter: 1}, {Letter: theory.A}, {Letter: theory.A, Alter: 1}, {Letter: theory.B},
	}
	return theory.Pitch{Tone: tones[key%12], Octave: key/12 - 1}
}

// shaken returns a performance in 4/4 with a shaker from its second bar on, forth and back
// in eighths.
func shaken(p *score.Performance) *score.Performance {
	for tick := 4 * meter.Quarter; tick < p.Length; tick += meter.Quarter {
		p.Percussion = append(p.Percussion,
			score.PercussionStroke{Tick: tick, Sound: score.ShakeForth, Velocity: 70 + tick/meter.Quarter%2*18},
			score.PercussionStroke{Tick: tick + meter.Quarter/2, Sound: score.ShakeBack, Velocity: 50})
	}
	return p
}

// brushed returns it with brushes that sweep on every other beat and tap on the others.
func brushed(p *score.Performance) *score.Performance {
	for tick := 4 * meter.Quarter; tick < p.Length; tick += 2 * meter.Quarter {
		p.Percussion = append(p.Percussion,
			score.PercussionStroke{Tick: tick, Sound: score.Sweep, Velocity: 70},
			score.PercussionStroke{Tick: tick + meter.Quarter, Sound: score.Tap, Velocity: 80})
	}
	return p
}

// playAlong is a performance as the arranger makes them, in 4/4: a bar of click,
// then bars of strummed chords, a click and a line of thirds.
func playAlong(bars, tempo int) *score.Performance {
	in := meter.Meter{Beats: 4, Unit: 4}
	micros := in.QuarterMicros(tempo)
	p := &score.Performance{
		Tempos: []score.TempoChange{{Tick: 0, QuarterMicros: micros}},
		Length: (bars + 1) * in.Bar(),
	}
	const eighth = meter.Quarter / 2
	spread := 10_000 * meter.Quarter / micros // ticks in 10 ms
	for tick := 0; tick < p.Length; tick += meter.Quarter {
		accent := tick%in.Bar() == 0
		velocity := 90
		if accent {
			velocity = 110
		}
		p.Click = append(p.Click, score.ClickStroke{Tick: tick, Accent: accent, Velocity: velocity})
	}
	for bar := range bars {
		start := (bar + 1) * in.Bar()
		grip := grips[bar%len(grips)]
		strokes := []int{0, 2, 3, 5, 6, 7}
		for i, slot := range strokes {
			end := 8
			if i+1 < len(strokes) {
				end = strokes[i+1]
			}
			up := slot%2 == 1
			at := start + slot*eighth
			for j := range grip {
				index, velocity := j, 84
				if up {
					index, velocity = len(grip)-1-j, 70
				}
				if grip[index] == neck.NotPlayed || up && j > 3 {
					continue
				}
				place := neck.Place{String: 6 - index, Fret: grip[index]}
				p.Notes = append(p.Notes, score.Note{
					Tick: at, Length: start + end*eighth - at,
					Pitch: pitchOf(place), Place: place, Velocity: velocity, Part: score.Chords, Pass: 1,
				})
				at += spread
			}
		}
		root := neck.Place{String: 3, Fret: []int{3, 0, 5, 3}[bar%4]} // of a bass guitar
		pitch := pitchOf(neck.Place{String: root.String + 2, Fret: root.Fret})
		pitch.Octave--
		p.Notes = append(p.Notes, score.Note{
			Tick: start, Length: in.Bar() / 2,
			Pitch: pitch, Place: root, Velocity: 84, Part: score.Bass, Pass: 1,
		})
		for slot, frets := range thirds {
			for i, part := range []score.Part{score.GuideLower, score.GuideUpper} {
				place := neck.Place{String: 3 - i, Fret: frets[i]}
				p.Notes = append(p.Notes, score.Note{
					Tick: start + slot*eighth, Length: eighth,
					Pitch: pitchOf(place), Place: place, Velocity: 96, Part: part, Pass: 1,
				})
			}
		}
	}
	return p
}
