package theory

import "strings"

// A Quality is what a chord symbol says beside the root: minor, 7, m7♭5 …
type Quality int

// The chord qualities that lead sheets use.
const (
	MajorTriad Quality = iota
	MinorTriad
	DiminishedTriad
	AugmentedTriad
	Suspended2
	Suspended4
	Power
	Sixth
	MinorSixth
	DominantSeventh
	MajorSeventh
	MinorSeventh
	HalfDiminishedSeventh
	DiminishedSeventh
	MinorMajorSeventh
	AugmentedSeventh
	Ninth
	MajorNinth
	MinorNinth
	AddedNinth
	MinorAddedNinth
	SixNine
	SeventhSuspended4
	SeventhFlatNinth
	SeventhSharpNinth
)

// qualities describes each quality: how it is printed behind a root, its tones
// as degrees of the major scale on the root, and the other spellings that lead
// sheets use (common practice). Accidentals stand as # and b in the spellings;
// the parser folds ♯ and ♭ into them.
var qualities = [...]struct {
	symbol    string
	formula   string
	spellings []string
}{
	MajorTriad:            {"", "1 3 5", []string{"M", "maj", "Maj", "major"}},
	MinorTriad:            {"m", "1 b3 5", []string{"min", "mi", "-", "minor"}},
	DiminishedTriad:       {"dim", "1 b3 b5", []string{"°", "o", "mb5", "m(b5)"}},
	AugmentedTriad:        {"aug", "1 3 #5", []string{"+", "#5", "(#5)"}},
	Suspended2:            {"sus2", "1 2 5", []string{"2"}},
	Suspended4:            {"sus4", "1 4 5", []string{"sus", "4"}},
	Power:                 {"5", "1 5", []string{"(no3)", "no3"}},
	Sixth:                 {"6", "1 3 5 6", []string{"maj6", "M6", "add6"}},
	MinorSixth:            {"m6", "1 b3 5 6", []string{"min6", "mi6", "-6"}},
	DominantSeventh:       {"7", "1 3 5 b7", []string{"dom7"}},
	MajorSeventh:          {"maj7", "1 3 5 7", []string{"Maj7", "M7", "ma7", "Δ", "Δ7", "△", "△7", "j7"}},
	MinorSeventh:          {"m7", "1 b3 5 b7", []string{"min7", "mi7", "-7"}},
	HalfDiminishedSeventh: {"m7♭5", "1 b3 b5 b7", []string{"ø", "ø7", "m7(b5)", "min7b5", "mi7b5", "-7b5", "min7(b5)"}},
	DiminishedSeventh:     {"dim7", "1 b3 b5 bb7", []string{"°7", "o7"}},
	MinorMajorSeventh:     {"mMaj7", "1 b3 5 7", []string{"mmaj7", "mM7", "m(maj7)", "m(Maj7)", "minMaj7", "minmaj7", "-Maj7", "-M7", "-Δ7", "mΔ7", "-Δ", "mΔ"}},
	AugmentedSeventh:      {"aug7", "1 3 #5 b7", []string{"+7", "7#5", "7(#5)", "7+"}},
	Ninth:                 {"9", "1 3 5 b7 9", []string{"7(9)", "dom9"}},
	MajorNinth:            {"maj9", "1 3 5 7 9", []string{"Maj9", "M9", "ma9", "Δ9", "△9", "maj7(9)"}},
	MinorNinth:            {"m9", "1 b3 5 b7 9", []string{"min9", "mi9", "-9", "m7(9)"}},
	AddedNinth:            {"add9", "1 3 5 9", []string{"(add9)", "add2", "(9)"}},
	MinorAddedNinth:       {"madd9", "1 b3 5 9", []string{"m(add9)", "minadd9", "-add9", "madd2"}},
	SixNine:               {"6/9", "1 3 5 6 9", []string{"69", "6(9)", "6add9"}},
	SeventhSuspended4:     {"7sus4", "1 4 5 b7", []string{"7sus", "sus7", "7(sus4)"}},
	SeventhFlatNinth:      {"7♭9", "1 3 5 b7 b9", []string{"7(b9)", "7-9"}},
	SeventhSharpNinth:     {"7♯9", "1 3 5 b7 #9", []string{"7(#9)", "7+9"}},
}

// intervals holds the formulas of the qualities as intervals above the root.
var intervals = func() (table [len(qualities)][]Interval) {
	for q, row := range qualities {
		for _, degree := range strings.Fields(row.formula) {
			table[q] = append(table[q], degreeInterval(degree))
		}
	}
	return table
}()

// degreeInterval reads a degree of the major scale with its alterations, as in
// b3 or #9, as the interval above the root.
func degreeInterval(degree string) Interval {
	alter, number := scanAccidentals(degree)
	steps := int(number[0]-'0') - 1
	return Interval{steps, naturals[steps%7] + 12*(steps/7) + alter}
}

// Qualities returns every quality.
func Qualities() []Quality {
	all := make([]Quality, len(qualities))
	for i := range all {
		all[i] = Quality(i)
	}
	return all
}

// String returns what the quality adds to a root: "m7♭5", and nothing for a
// major triad.
func (q Quality) String() string { return qualities[q].symbol }

// Intervals returns the quality's tones as intervals above the root, the root's
// own unison first.
func (q Quality) Intervals() []Interval { return intervals[q] }

// qualityOf finds the quality that a spelling stands for.
var qualityOf = func() map[string]Quality {
	table := map[string]Quality{}
	for q, row := range qualities {
		table[foldSigns(row.symbol)] = Quality(q)
		for _, s := range row.spellings {
			table[s] = Quality(q)
		}
	}
	return table
}()

// foldSigns writes ♯ and ♭ as # and b.
func foldSigns(s string) string { return strings.NewReplacer("♯", "#", "♭", "b").Replace(s) }
