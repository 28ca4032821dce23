package theory

import "fmt"

// A Third is two pitches whose letters are two apart, sounding together.
type Third struct {
	Lower, Upper Pitch
}

// Third returns the scale's third whose lower note stands on a staff step (see
// [Pitch.Staff]).
func (s Scale) Third(staff int) Third {
	return Third{Lower: s.At(staff), Upper: s.At(staff + 2)}
}

// Staff returns the staff step of the lower note. Thirds are a step apart where
// their staff steps differ by one.
func (t Third) Staff() int { return t.Lower.Staff() }

// Interval returns the third's interval: mostly M3 or m3, and d3 or A3 where
// alterations make it so.
func (t Third) Interval() Interval { return Between(t.Lower, t.Upper) }

// IsThird reports whether the two notes sound a third: 3 or 4 semitones. Not
// every pair two letters apart does.
func (t Third) IsThird() bool {
	i := t.Interval()
	return i == MinorThird || i == MajorThird
}

// Has reports whether one of the two notes sounds as a tone does, however either is
// spelled.
func (t Third) Has(tone Tone) bool {
	return t.Lower.Class() == tone.Class() || t.Upper.Class() == tone.Class()
}

// Quality returns the third's quality in words, major or minor, and where
// alterations make it neither, the interval's short name: d3.
func (t Third) Quality() string {
	switch i := t.Interval(); i.Quality() {
	case "M":
		return "major"
	case "m":
		return "minor"
	default:
		return i.String()
	}
}

// String prints the two notes, the lower first: "E4–G4".
func (t Third) String() string { return fmt.Sprintf("%s–%s", t.Lower, t.Upper) }

// Thirds returns the third on each degree of the key, from the tonic in octave
// 4 up. Every other octave has the same.
func (k Key) Thirds() [7]Third {
	scale := k.Scale()
	tonic := Pitch{k.Tonic, 4}
	var thirds [7]Third
	for degree := range thirds {
		thirds[degree] = scale.Third(tonic.Staff() + degree)
	}
	return thirds
}
