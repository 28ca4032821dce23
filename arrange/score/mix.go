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
	Loop
	Echo
)

var mixes = [...]struct {
	name  string
	parts []Part
}{
	Full:            {"full", []Part{Click, Chords, GuideUpper, GuideLower, Bass}},
	Backing:         {"backing", []Part{Click, Chords, Bass}},
	Guide:           {"guide", []Part{Click, GuideUpper, GuideLower}},
	ClickAlone:      {"click", []Part{Click}},
	ChordsAlone:     {"chords", []Part{Chords}},
	GuideUpperAlone: {"guide-upper", []Part{GuideUpper}},
	GuideLowerAlone: {"guide-lower", []Part{GuideLower}},
	BassAlone:       {"bass", []Part{Bass}},
	Loop:            {"loop", []Part{Click, Chords, GuideUpper, GuideLower, Bass}},
	Echo:            {"echo", []Part{Click, Chords, GuideUpper, GuideLower, Bass}},
}

// Mixes returns every mix.
func Mixes() []Mix {
	all := make([]Mix, len(mixes))
	for i := range all {
		all[i] = Mix(i)
	}
	return all
}

// ParseMix reads the name of a mix.
func ParseMix(name string) (Mix, error) {
	var names []string
	for _, m := range Mixes() {
		if m.String() == name {
			return m, nil
		}
		names = append(names, m.String())
	}
	return 0, fmt.Errorf("%q is not a mix; the mixes are %s", name, strings.Join(names, ", "))
}

// String returns the mix's name, as file names and options have it.
func (m Mix) String() string { return mixes[m].name }

// Parts returns the parts that sound in the mix.
func (m Mix) Parts() []Part { return mixes[m].parts }
