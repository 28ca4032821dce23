package staff

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/paper"
	"thirdwise/theory"
)

// byHand writes a measure of events, each a value with its dots and its written pitches:
// "8.:F4+A4"; "16:r" is a rest and "1:bar" one that fills the measure. A "~" behind it ties
// it to the next, one before all others the first to what stands before; from "[" to "]"
// events stand under a beam. A pitch that is altered has its accidental.
func byHand(t testing.TB, text string, clef paper.Clef, tuplets ...paper.Tuplet) *Measure {
	values := map[string]paper.Value{"1": 1, "2": 2, "4": 4, "8": 8, "16": 16, "32": 32}
	m := &paper.Measure{Tuplets: tuplets}
	var beams []int // events under the beam
	open, tied := false, strings.HasPrefix(text, "~")
	for word := range strings.FieldsSeq(text) {
		open = open || strings.HasPrefix(word, "[")
		value, pitches, _ := strings.Cut(strings.Trim(word, "[]~"), ":")
		e := paper.Event{Tick: m.Length, TiedFrom: tied, TiedTo: strings.HasSuffix(word, "~"), Tuplet: -1}
		e.Dots = strings.Count(value, ".")
		e.Value = values[strings.TrimRight(value, ".")]
		require.NotZero(t, e.Value, word)
		e.Length = 480
		if pitches == "bar" {
			e.MeasureRest, pitches = true, "r"
		}
		if pitches != "r" {
			e.Thirds = []int{0}
			for i, name := range strings.Split(pitches, "+") {
				p, err := theory.ParsePitch(name)
				require.NoError(t, err)
				p.Octave-- // as it sounds
				e.Pitches = append(e.Pitches, p)
				if p.Alter != 0 {
					e.Accidentals[i] = paper.Needed
				}
			}
		}
		tied = e.TiedTo
		if open {
			beams = append(beams, len(m.Events))
		}
		m.Events = append(m.Events, e)
		m.Length += e.Length
		if strings.HasSuffix(word, "]") {
			beam(m.Events[beams[0] : beams[len(beams)-1]+1])
			open, beams = false, nil
		}
	}
	return Of(m, clef)
}

// beam puts events under as many beams as each of them has.
func beam(events []paper.Event) {
	for i := range events {
		for level := range events[i].Value.Flags() {
			has := func(j int) bool { return j >= 0 && j < len(events) && events[j].Value.Flags() > level }
			part := paper.BeamContinues
			switch {
			case !has(i-1) && !has(i+1) && i == 0:
				part = paper.HookForward
			case !has(i-1) && !has(i+1):
				part = paper.HookBackward
			case !has(i - 1):
				part = paper.BeamBegins
			case !has(i + 1):
				part = paper.BeamEnds
			}
			events[i].Beams = append(events[i].Beams, part)
		}
	}
}
