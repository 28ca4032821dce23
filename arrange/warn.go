package arrange

import (
	"fmt"
	"strings"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Tempos beyond these, in beats a minute, are warned about.
const (
	slowTempo = 30
	fastTempo = 300
)

// warnings lists what a teacher may want to know, in the order of the file.
func (a *arranger) warnings() []*exercise.Mistake {
	var list exercise.ErrorList
	list = append(list, a.tempoWarnings()...)
	list = append(list, a.chordWarnings()...)
	list = append(list, a.stretchWarnings()...)
	list = append(list, a.toAndFroWarnings()...)
	list.Sort()
	return list
}

func (a *arranger) tempoWarnings() (list exercise.ErrorList) {
	for i, tempo := range a.Tempos {
		at, ok := a.TempoSpan(i)
		switch {
		case !ok: // it does not come from the file
		case tempo < slowTempo:
			list = append(list, a.Mistake(at, fmt.Sprintf("%d beats a minute is very slow", tempo), ""))
		case tempo > fastTempo:
			list = append(list, a.Mistake(at, fmt.Sprintf("%d beats a minute is very fast", tempo), ""))
		}
	}
	return list
}

// chordWarnings tells of each chord outside the key, and of each that has no
// third of its own, where it first stands.
func (a *arranger) chordWarnings() (list exercise.ErrorList) {
	told := map[theory.Chord]bool{}
	scale := a.Key.Scale()
	for _, s := range a.spans {
		if told[s.Chord] {
			continue
		}
		told[s.Chord] = true
		var altered []string
		for l := theory.C; l <= theory.B; l++ {
			if now, own := s.Scale.Tone(l), scale.Tone(l); now != own {
				altered = append(altered, fmt.Sprintf("%s for %s", now, own))
			}
		}
		at := s.written.Span()
		if len(altered) > 0 {
			how := "is outside"
			if a.Key.Owns(s.Chord) {
				how = "belongs to another form of"
			}
			list = append(list, a.Mistake(at, fmt.Sprintf("%s %s %s; while it sounds the line has %s",
				s.Chord, how, a.Key, strings.Join(altered, ", ")), ""))
		}
		if !s.Chord.HasThird() {
			list = append(list, a.Mistake(at, fmt.Sprintf(
				"%s has no third among its tones; the line arrives with one of the key's that goes with it", s.Chord), ""))
		}
	}
	return list
}

// stretchWarnings tells of each third that lies outside the position, where it
// is first played.
func (a *arranger) stretchWarnings() (list exercise.ErrorList) {
	fret, fixed := a.score.Position.Fret()
	if !fixed {
		return nil
	}
	told := map[theory.Third]bool{}
	for _, t := range a.score.Line {
		if told[t.Notes] {
			continue
		}
		told[t.Notes] = true
		for _, place := range []neck.Place{t.Places.Lower, t.Places.Upper} {
			if place.Fret < fret || place.Fret > fret+neck.Span {
				list = append(list, a.atBar(t.Tick, fmt.Sprintf("%s is a stretch: fret %d, outside position %d to %d",
					t.Notes, place.Fret, fret, fret+neck.Span), ""))
				break
			}
		}
	}
	return list
}

// atBar makes a mistake of the written bar that is played at a tick of the score.
func (a *arranger) atBar(tick int, message, remedy string) *exercise.Mistake {
	bar := tick / a.Meter.Bar()
	at := a.Chart[a.score.Bars[bar].Written].Pos
	return a.Mistake(exercise.Span{Pos: at}, fmt.Sprintf("bar %d: %s", a.score.Bars[bar].Number, message), remedy)
}

// toAndFroWarnings tells where the line first goes to and fro between two
// thirds, as it must where the position has no others beside them, and of the
// lowest position in which it need not.
func (a *arranger) toAndFroWarnings() (list exercise.ErrorList) {
	at := toAndFro(a.score.Line)
	if at < 0 {
		return nil
	}
	remedy := "widen the compass (low and high), or ask for a lower density"
	for _, p := range a.Neck.Candidates() {
		if other, err := a.lineIn(p); err == nil && toAndFro(other) < 0 {
			remedy = "ask for position " + p.String()
			break
		}
	}
	first := a.score.Line[at]
	return exercise.ErrorList{a.atBar(first.Tick, fmt.Sprintf("the line goes to and fro between %s and %s, for want of others in reach",
		first.Notes, a.score.Line[at+1].Notes), remedy)}
}

// toAndFro returns the index of the first third with which a line begins to go
// to and fro between two, for as many thirds as are heard as nothing else; -1
// where it does not.
func toAndFro(line []score.Third) int {
	const heard = 6
	run := 2 // thirds up to this one that alternate
	for i := 2; i < len(line); i++ {
		now, before := line[i].Notes.Staff(), line[i-1].Notes.Staff()
		if now == before || now != line[i-2].Notes.Staff() {
			run = 2
			continue
		}
		if run++; run == heard {
			return i - heard + 1
		}
	}
	return -1
}
