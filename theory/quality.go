package theory

import (
	"slices"
	"strconv"
	"strings"
)

// A Quality is what a chord symbol says beside the root: minor, 7, m7♭5 …
type Quality int

// The chord qualities that lead sheets use.
const (
	MajorTriad Quality = iota
	MinorTriad
	DiminishedTriad
	AugmentedTriad
	FlatFifthTriad
	Suspended2
	Suspended4
	Suspended24
	Power
	Sixth
	MinorSixth
	MinorFlatSixth
	DominantSeventh
	MajorSeventh
	MinorSeventh
	HalfDiminishedSeventh
	DiminishedSeventh
	DiminishedMajorSeventh
	MinorMajorSeventh
	AugmentedSeventh
	AugmentedMajorSeventh
	SeventhFlatFifth
	MajorSeventhFlatFifth
	Ninth
	MajorNinth
	MinorNinth
	MinorMajorNinth
	MinorNinthFlatFifth
	AugmentedNinth
	AugmentedMajorNinth
	AddedNinth
	MinorAddedNinth
	SixNine
	MinorSixNine
	SixNineSharpEleventh
	SeventhSuspended4
	SeventhSuspended2
	NinthSuspended4
	ThirteenthSuspended4
	MajorSeventhSuspended4
	MajorSeventhSuspended2
	SeventhFlatNinthSuspended4
	ThirteenthFlatNinthSuspended4
	SeventhFlatNinth
	SeventhAugmentedNinth
	AugmentedSeventhFlatNinth
	AugmentedSeventhAugmentedNinth
	AddedEleventh
	AddedSharpEleventh
	MinorAddedEleventh
	MinorSeventhAddedEleventh
	Eleventh
	MinorEleventh
	MinorEleventhFlatFifth
	SeventhSharpEleventh
	SeventhFlatNinthSharpEleventh
	SeventhSharpNinthSharpEleventh
	MajorSeventhSharpEleventh
	NinthSharpEleventh
	MajorNinthSharpEleventh
	Thirteenth
	SeventhAddedThirteenth
	MajorThirteenth
	MinorThirteenth
	ThirteenthFlatNinth
	ThirteenthSharpNinth
	ThirteenthSharpEleventh
	MajorThirteenthSharpEleventh
	SeventhFlatThirteenth
	NinthFlatThirteenth
	SeventhFlatNinthFlatThirteenth
	SeventhSharpNinthFlatThirteenth
)

// qualities describes each quality: how it is printed behind a root, its tones
// as degrees of the major scale on the root, and the other spellings that lead
// sheets use (common practice). The eleventh chord is without the third and the
// flat thirteenth without the fifth, because that is how they are played: the
// one would lie a semitone from the other.
//
// A spelling here stands for all that [foldSpelling] brings to the same form:
// "m7b5" also for -7♭5, min7(b5) and mi7-5.
var qualities = [...]struct {
	symbol    string
	formula   string
	spellings []string
}{
	MajorTriad:                      {"", "1 3 5", []string{"maj"}},
	MinorTriad:                      {"m", "1 b3 5", nil},
	DiminishedTriad:                 {"dim", "1 b3 b5", []string{"mb5"}},
	AugmentedTriad:                  {"aug", "1 3 #5", []string{"aug5", "#5"}},
	FlatFifthTriad:                  {"(♭5)", "1 3 b5", []string{"majb5"}},
	Suspended2:                      {"sus2", "1 2 5", []string{"2"}},
	Suspended4:                      {"sus4", "1 4 5", []string{"sus", "4"}},
	Suspended24:                     {"sus24", "1 2 4 5", []string{"sus2sus4", "sus4sus2", "sus2/4", "sus4add9", "sus4add2", "sus2add4"}},
	Power:                           {"5", "1 5", []string{"no3", "omit3"}},
	Sixth:                           {"6", "1 3 5 6", []string{"maj6", "add6", "add13"}},
	MinorSixth:                      {"m6", "1 b3 5 6", []string{"madd6"}},
	MinorFlatSixth:                  {"m♭6", "1 b3 5 b6", []string{"maddb6"}},
	DominantSeventh:                 {"7", "1 3 5 b7", []string{"dom", "dom7"}},
	MajorSeventh:                    {"maj7", "1 3 5 7", []string{"7M", "7maj"}},
	MinorSeventh:                    {"m7", "1 b3 5 b7", nil},
	HalfDiminishedSeventh:           {"m7♭5", "1 b3 b5 b7", []string{"ø", "ø7"}},
	DiminishedSeventh:               {"dim7", "1 b3 b5 bb7", nil},
	DiminishedMajorSeventh:          {"dim(maj7)", "1 b3 b5 7", nil},
	MinorMajorSeventh:               {"m(maj7)", "1 b3 5 7", []string{"m/maj7", "m/ma7", "m/M7", "m#7"}},
	AugmentedSeventh:                {"7♯5", "1 3 #5 b7", []string{"aug7", "7+", "7aug"}},
	AugmentedMajorSeventh:           {"maj7♯5", "1 3 #5 7", []string{"augmaj7"}},
	SeventhFlatFifth:                {"7♭5", "1 3 b5 b7", nil},
	MajorSeventhFlatFifth:           {"maj7♭5", "1 3 b5 7", nil},
	Ninth:                           {"9", "1 3 5 b7 9", []string{"7add9", "dom9"}},
	MajorNinth:                      {"maj9", "1 3 5 7 9", []string{"maj7add9"}},
	MinorNinth:                      {"m9", "1 b3 5 b7 9", []string{"m7add9"}},
	MinorMajorNinth:                 {"m(maj9)", "1 b3 5 7 9", nil},
	MinorNinthFlatFifth:             {"m9♭5", "1 b3 b5 b7 9", []string{"ø9"}},
	AugmentedNinth:                  {"9♯5", "1 3 #5 b7 9", []string{"aug9", "9+"}},
	AugmentedMajorNinth:             {"maj9♯5", "1 3 #5 7 9", []string{"augmaj9"}},
	AddedNinth:                      {"add9", "1 3 5 9", []string{"add2", "majadd9"}},
	MinorAddedNinth:                 {"madd9", "1 b3 5 9", []string{"madd2"}},
	SixNine:                         {"6/9", "1 3 5 6 9", []string{"69", "6add9", "maj6/9", "maj69"}},
	MinorSixNine:                    {"m6/9", "1 b3 5 6 9", []string{"m69", "m6add9"}},
	SixNineSharpEleventh:            {"6/9♯11", "1 3 5 6 9 #11", []string{"69#11", "6add9#11"}},
	SeventhSuspended4:               {"7sus4", "1 4 5 b7", []string{"7sus", "sus7"}},
	SeventhSuspended2:               {"7sus2", "1 2 5 b7", nil},
	NinthSuspended4:                 {"9sus4", "1 4 5 b7 9", []string{"9sus", "sus9"}},
	ThirteenthSuspended4:            {"13sus4", "1 4 5 b7 9 13", []string{"13sus", "sus13", "9sus13"}},
	MajorSeventhSuspended4:          {"maj7sus4", "1 4 5 7", []string{"maj7sus"}},
	MajorSeventhSuspended2:          {"maj7sus2", "1 2 5 7", nil},
	SeventhFlatNinthSuspended4:      {"7♭9sus4", "1 4 5 b7 b9", []string{"7b9sus", "7sus4b9", "7susb9", "susb9", "sus4b9"}},
	ThirteenthFlatNinthSuspended4:   {"13♭9sus4", "1 4 5 b7 b9 13", []string{"13b9sus", "13sus4b9", "13susb9"}},
	SeventhFlatNinth:                {"7♭9", "1 3 5 b7 b9", []string{"7addb9"}},
	SeventhAugmentedNinth:           {"7♯9", "1 3 5 b7 #9", []string{"7add#9"}},
	AugmentedSeventhFlatNinth:       {"7♯5♭9", "1 3 #5 b7 b9", []string{"7b9#5", "aug7b9"}},
	AugmentedSeventhAugmentedNinth:  {"7♯5♯9", "1 3 #5 b7 #9", []string{"7#9#5", "aug7#9", "7alt", "alt"}},
	AddedEleventh:                   {"add11", "1 3 5 11", []string{"add4"}},
	AddedSharpEleventh:              {"add♯11", "1 3 5 #11", []string{"#11", "add#4", "#4"}},
	MinorAddedEleventh:              {"madd11", "1 b3 5 11", []string{"madd4"}},
	MinorSeventhAddedEleventh:       {"m7add11", "1 b3 5 b7 11", []string{"m7add4"}},
	Eleventh:                        {"11", "1 5 b7 9 11", []string{"dom11"}},
	MinorEleventh:                   {"m11", "1 b3 5 b7 9 11", []string{"m9add11"}},
	MinorEleventhFlatFifth:          {"m11♭5", "1 b3 b5 b7 11", []string{"ø11", "m7b5add11"}},
	SeventhSharpEleventh:            {"7♯11", "1 3 5 b7 #11", []string{"7#4"}},
	SeventhFlatNinthSharpEleventh:   {"7♭9♯11", "1 3 5 b7 b9 #11", []string{"7#11b9", "7b9b5", "7b5b9"}},
	SeventhSharpNinthSharpEleventh:  {"7♯9♯11", "1 3 5 b7 #9 #11", []string{"7#11#9", "7b5#9", "7#9b5"}},
	MajorSeventhSharpEleventh:       {"maj7♯11", "1 3 5 7 #11", []string{"maj7#4", "maj#4"}},
	NinthSharpEleventh:              {"9♯11", "1 3 5 b7 9 #11", []string{"9#4", "9b5"}},
	MajorNinthSharpEleventh:         {"maj9♯11", "1 3 5 7 9 #11", []string{"maj9#4"}},
	Thirteenth:                      {"13", "1 3 5 b7 9 13", []string{"dom13", "9add13"}},
	SeventhAddedThirteenth:          {"7add13", "1 3 5 b7 13", []string{"7add6", "7/6", "67"}},
	MajorThirteenth:                 {"maj13", "1 3 5 7 9 13", []string{"maj9add13"}},
	MinorThirteenth:                 {"m13", "1 b3 5 b7 9 13", []string{"m9add13"}},
	ThirteenthFlatNinth:             {"13♭9", "1 3 5 b7 b9 13", []string{"7b9add13", "7b913"}},
	ThirteenthSharpNinth:            {"13♯9", "1 3 5 b7 #9 13", []string{"7#9add13", "7#913"}},
	ThirteenthSharpEleventh:         {"13♯11", "1 3 5 b7 9 #11 13", []string{"13#4"}},
	MajorThirteenthSharpEleventh:    {"maj13♯11", "1 3 5 7 9 #11 13", []string{"maj13#4"}},
	SeventhFlatThirteenth:           {"7♭13", "1 3 b7 b13", nil},
	NinthFlatThirteenth:             {"9♭13", "1 3 b7 9 b13", nil},
	SeventhFlatNinthFlatThirteenth:  {"7♭9♭13", "1 3 5 b7 b9 b13", []string{"7b13b9"}},
	SeventhSharpNinthFlatThirteenth: {"7♯9♭13", "1 3 5 b7 #9 b13", []string{"7b13#9"}},
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
	alter, number := CutAccidentals(degree)
	n, err := strconv.Atoi(number)
	if err != nil {
		panic("theory: a formula holds " + degree)
	}
	steps := n - 1
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

// Third returns the semitones of the quality's third, 0 where it has none.
func (q Quality) Third() int {
	for _, step := range intervals[q] {
		if step.Steps == 2 {
			return step.Semitones
		}
	}
	return 0
}

// Has reports whether the interval above the root is one of the quality's.
func (q Quality) Has(i Interval) bool { return slices.Contains(intervals[q], i) }
