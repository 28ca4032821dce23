package score

import (
	"fmt"
	"strings"
)

// A Mix is the parts heard together in one file.
type Mix int

// The mixes.
const (
	Full Mix = iota
	Backing
	Guide
	ClickAlone
	ChordsAlone
	GuideUpperAlone
	GuideLowerAlone
	BassAlone
	GrooveAlone
	Loop
	Turns
)

var mixes = [...]struct {
	name  string
	parts []Part
}{
	Full:            {"full", []Part{Click, Chords, GuideUpper, GuideLower, Bass, Groove}},
	Backing:         {"backing", []Part{Click, Chords, Bass, Groove}},
	Guide:           {"guide", []Part{Click, GuideUpper, GuideLower}},
	ClickAlone:      {"click", []Part{Click}},
	ChordsAlone:     {"chords", []Part{Chords}},
	GuideUpperAlone: {"guide-upper", []Part{GuideUpper}},
	GuideLowerAlone: {"guide-lower", []Part{GuideLower}},
	BassAlone:       {"bass", []Part{Bass}},
	GrooveAlone:     {"groove", []Part{Groove}},
	Loop:            {"loop", []Part{Click, Chords, GuideUpper, GuideLower, Bass, Groove}},
	Turns:           {"turns", []Part{Click, Chords, GuideUpper, GuideLower, Bass, Groove}},
}

// Mixes returns every mix.
func Mixes() []Mix {
	all := make([]Mix, len(mixes))
	for i := range all {
		all[i] = Mix(i)
	}
	return all
}

// echo is what players who look for turns may write. To most of them it is an
// effect, which is why the mix has another name.
const echo = "echo"

// NoMix stands for no audio at all, where mixes are asked for.
const NoMix Mix = -1

// noMix is its name.
const noMix = "none"

// UnmarshalText sets m to the mix that a text names, or to NoMix.
func (m *Mix) UnmarshalText(text []byte) error {
	if string(text) == noMix {
		*m = NoMix
		return nil
	}
	var names []string
	for _, known := range Mixes() {
		if known.String() == string(text) {
			*m = known
			return nil
		}
		names = append(names, known.String())
	}
	if string(text) == echo {
		return fmt.Errorf("%q is not a mix; did you mean %s?", text, Turns)
	}
	return fmt.Errorf("%q is not a mix; the mixes are %s", text, strings.Join(names, ", "))
}

// String returns the mix's name, as file names and options have it.
func (m Mix) String() string {
	if m == NoMix {
		return noMix
	}
	return mixes[m].name
}

// Parts returns the parts that sound in the mix.
func (m Mix) Parts() []Part { return mixes[m].parts }

// Silent reports whether nothing of the score would be heard in the mix: it is a part
// alone that the exercise has not asked for.
func (m Mix) Silent(s *Score) bool {
	return m == BassAlone && len(s.Bass) == 0 || m == GrooveAlone && len(s.Groove) == 0
}
