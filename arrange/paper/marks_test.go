package paper

import (
	"fmt"
	"reflect"
	"testing"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// Common practice: a lone sixteenth behind an eighth has its second beam towards it, and
// a rest stands outside of beams.
func TestAStubAtTheEndOfAGroupPointsBack(t *testing.T) {
	events := Notate(lineScore(meter.Meter{Beats: 4, Unit: 4}, 1, 0, 240, -360, 480, 720, -960)).Measures[0].Events
	if got, want := fmt.Sprint(events[0].Beams, events[1].Beams), fmt.Sprint([]BeamPart{BeamBegins}, []BeamPart{BeamEnds, HookBackward}); got != want {
		t.Errorf("an eighth and a sixteenth have the beams %s, and not %s", got, want)
	}
	if !events[2].Rest() || len(events[2].Beams) != 0 {
		t.Errorf("behind them stands %v, and no rest without a beam", events[2])
	}
	apart := Notate(lineScore(meter.Meter{Beats: 4, Unit: 4}, 1, 0, -240, 480, -720, 960)).Measures[0].Events
	for _, e := range apart[:4] {
		if len(e.Beams) > 0 {
			t.Errorf("an eighth before a rest has the beams %v", e.Beams)
		}
	}
}

// Common practice: triplets of a half are quarters, those of a quarter eighths; two in
// the time of a dotted quarter are eighths.
func TestTupletsAreWrittenInTheUsualValues(t *testing.T) {
	for of, want := range map[[2]int]Value{{960, 3}: 4, {480, 3}: 8, {240, 3}: 16, {480, 2}: 8, {720, 2}: 8} {
		if got, ok := countedValue(of[0], of[1]); !ok || got != want {
			t.Errorf("%d in %d ticks are written as 1/%d, and not as 1/%d", of[1], of[0], got, want)
		}
	}
}

// A bar in which the line is silent has one rest, which is a whole one in any meter.
func TestASilentBarHasOneRest(t *testing.T) {
	for _, m := range meter.Meters() {
		events := Notate(lineScore(m, 2, 0, -m.Bar())).Measures[1].Events
		if len(events) != 1 || !events[0].MeasureRest || events[0].Value != 1 || events[0].Length != m.Bar() {
			t.Errorf("in %s it has %v", m, events)
		}
	}
}

// The fingers of a third are told where it is an arrival, where the hand has moved, and
// where a finger stretches out of the four frets of the hand.
func TestFingersAreToldWhereTheHandDoesSomething(t *testing.T) {
	s := lineScore(meter.Meter{Beats: 4, Unit: 4}, 1, 0, 480, 960, 1440)
	for i := range s.Line {
		s.Line[i].Role, s.Line[i].Hand = score.Passing, 2
		s.Line[i].Places = neck.Pair{Lower: neck.Place{String: 3, Fret: 3}, Upper: neck.Place{String: 2, Fret: 3}}
	}
	told := func(change func(i *score.Third)) bool {
		third := s.Line[2]
		change(&s.Line[2])
		is := fingered(s, 2)
		s.Line[2] = third
		return is
	}
	for name, row := range map[string]struct {
		change func(*score.Third)
		want   bool
	}{
		"nothing":             {func(*score.Third) {}, false},
		"an arrival":          {func(i *score.Third) { i.Role = score.Arrival }, true},
		"a hand that moves":   {func(i *score.Third) { i.Hand = 3 }, true},
		"a first finger back": {func(i *score.Third) { i.Places.Lower.Fret = 1 }, true},
		"an open string":      {func(i *score.Third) { i.Places.Lower.Fret = 0 }, false},
		"the fourth finger":   {func(i *score.Third) { i.Places.Upper.Fret = 5 }, false},
		"a fourth finger up":  {func(i *score.Third) { i.Places.Upper.Fret = 6 }, true},
		"no hand":             {func(i *score.Third) { i.Hand, i.Role = 0, score.Arrival }, false},
	} {
		if got := told(row.change); got != row.want {
			t.Errorf("%s: told is %t", name, got)
		}
	}
}

// The number alone stands where as many are played in the time of the next lower power of
// two; a duplet of a compound beat, and the like, tell their ratio (Gould, Behind Bars, from
// memory).
func TestATupletTellsItsNumber(t *testing.T) {
	for of, want := range map[[2]int]string{
		{3, 2}: "3", {5, 4}: "5", {6, 4}: "6", {7, 4}: "7", {8, 4}: "8", {9, 8}: "9", {12, 8}: "12",
		{2, 3}: "2:3", {4, 3}: "4:3", {5, 3}: "5:3", {7, 8}: "7:8", {2, 1}: "2",
	} {
		if got := (Tuplet{Actual: of[0], Normal: of[1]}).Label(); got != want {
			t.Errorf("%d in the time of %d are marked %s, and not %s", of[0], of[1], got, want)
		}
	}
}

// Eighths in five quarters that last a bar of three are beamed by the five (common
// practice).
func TestATupletOfQuartersHasBeatsOfItsOwn(t *testing.T) {
	m := Notate(lineScore(meter.Meter{Beats: 3, Unit: 4}, 1, 0, 144, 288, 432, 576, 864, 1152)).Measures[0]
	if got := rhythmOf(m); got != "(5:3 8 8 8 8 4 4 4)" {
		t.Fatalf("it is written %s", got)
	}
	for i, e := range m.Events[:4] {
		if want := []BeamPart{[]BeamPart{BeamBegins, BeamEnds}[i%2]}; !reflect.DeepEqual(e.Beams, want) {
			t.Errorf("eighth %d has the beams %v, and not %v", i+1, e.Beams, want)
		}
	}
}

// A bar by its chords has a rest for each, from where it begins in the bar.
func TestABarByChordHasARestForEach(t *testing.T) {
	s := arrangetest.Score(t, "title: Chords\nkey: C major\nchart: '| C | F / G / |'\n")
	m := Notate(s).Measures[1].ByChord()
	want := []Event{{Tick: 0, Length: 960, Value: 1, Tuplet: -1}, {Tick: 960, Length: 960, Value: 1, Tuplet: -1}}
	if !reflect.DeepEqual(m.Events, want) {
		t.Errorf("two chords are written as %v", m.Events)
	}
}
