package theory

// A Mode is a scale pattern that a key can have.
type Mode int

// The modes, in the order in which they are listed to people.
const (
	Major Mode = iota
	Minor      // natural minor
	HarmonicMinor
	MelodicMinor // its rising form, in both directions
	Dorian
	Phrygian
	Lydian
	Mixolydian
	Locrian
)

// A modeRow is all that the program knows of a mode. Any scale of seven degrees can
// be one.
type modeRow struct {
	name    string   // as an exercise writes it
	degrees [7]int   // semitones above the tonic
	fifths  int      // what its signature has more than that of the major key on the same tonic
	minor   bool     // it is a kind of minor: its chords mix with those of the other kinds, and its numerals are theirs
	others  []string // names by which it is known too, in lower case
}

var modes = []modeRow{
	Major:         {"major", [7]int{0, 2, 4, 5, 7, 9, 11}, 0, false, []string{"", "maj", "ionian", "dur"}},
	Minor:         {"minor", [7]int{0, 2, 3, 5, 7, 8, 10}, -3, true, []string{"m", "min", "natural minor", "minor natural", "aeolian", "moll"}},
	HarmonicMinor: {"harmonic minor", [7]int{0, 2, 3, 5, 7, 8, 11}, -3, true, []string{"minor harmonic", "harm minor", "harmonic"}},
	MelodicMinor:  {"melodic minor", [7]int{0, 2, 3, 5, 7, 9, 11}, -3, true, []string{"minor melodic", "mel minor", "melodic", "jazz minor"}},
	Dorian:        {"dorian", [7]int{0, 2, 3, 5, 7, 9, 10}, -2, false, []string{"dor"}},
	Phrygian:      {"phrygian", [7]int{0, 1, 3, 5, 7, 8, 10}, -4, false, []string{"phryg"}},
	Lydian:        {"lydian", [7]int{0, 2, 4, 6, 7, 9, 11}, 1, false, []string{"lyd"}},
	Mixolydian:    {"mixolydian", [7]int{0, 2, 4, 5, 7, 9, 10}, -1, false, []string{"mixo", "mixolyd"}},
	Locrian:       {"locrian", [7]int{0, 1, 3, 5, 6, 8, 10}, -5, false, []string{"loc"}},
}

// Modes returns every mode, in the order in which they are listed to people.
func Modes() []Mode {
	all := make([]Mode, len(modes))
	for i := range all {
		all[i] = Mode(i)
	}
	return all
}

// String returns the mode's name, as an exercise writes it.
func (m Mode) String() string { return modes[m].name }

// A Scale gives each letter the alteration it has in force: Scale[C] is 1 where
// the scale has C♯. It has no tonic; a [Key] has.
type Scale [7]int

// Tone returns the scale's tone of a letter.
func (s Scale) Tone(l Letter) Tone { return Tone{Letter: l, Alter: s[l]} }

// At returns the scale's pitch on a staff step (see [Pitch.Staff]).
func (s Scale) At(staff int) Pitch { return s.Tone(Letter(mod(staff, 7))).At(staff) }

// Contains reports whether the tone, as spelled, is one of the scale's.
func (s Scale) Contains(t Tone) bool { return s[t.Letter] == t.Alter }

// Sounds reports whether one of the scale's tones sounds as the tone does, however either
// is spelled.
func (s Scale) Sounds(t Tone) bool {
	for l := C; l <= B; l++ {
		if s.Tone(l).Class() == t.Class() {
			return true
		}
	}
	return false
}

// NewScale returns the scale on a tonic whose degrees lie so many semitones above it.
func NewScale(tonic Tone, degrees [7]int) Scale {
	var s Scale
	for degree, semitones := range degrees {
		t := tonic.Up(Interval{Steps: degree, Semitones: semitones})
		s[t.Letter] = t.Alter
	}
	return s
}
