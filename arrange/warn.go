package arrange

import (
	"fmt"
	"strings"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Tempos beyond these, in beats a minute, are warned about.
const (
	slowTempo = 30
	fastTempo = 300
)

// warnings lists what a teacher may want to know, in the order of the file.
func (a *arranger) warnings() []*Mistake {
	var list ErrorList
	list = append(list, a.tempoWarnings()...)
	list = append(list, a.chordWarnings()...)
	list = append(list, a.stretchWarnings()...)
	list.Sort()
	return list
}

func (a *arranger) tempoWarnings() (list ErrorList) {
	for i, at := range a.tempoSpans {
		switch tempo := a.Tempos[i]; {
		case tempo < slowTempo:
			list = append(list, a.mistake(at, fmt.Sprintf("%d beats a minute is very slow", tempo), ""))
		case tempo > fastTempo:
			list = append(list, a.mistake(at, fmt.Sprintf("%d beats a minute is very fast", tempo), ""))
		}
	}
	return list
}

// chordWarnings tells of each written chord outside the key once, and of each
// that has no third of its own.
func (a *arranger) chordWarnings() (list ErrorList) {
	told := map[Pos]bool{}
	scale := a.Key.Scale()
	for _, s := range a.spans {
		if told[s.written.Pos] {
			continue
		}
		told[s.written.Pos] = true
		var altered []string
		for l := theory.C; l <= theory.B; l++ {
			if now, own := s.Scale.Tone(l), scale.Tone(l); now != own {
				altered = append(altered, fmt.Sprintf("%s for %s", now, own))
			}
		}
		at := s.written.span()
		if len(altered) > 0 {
			list = append(list, a.mistake(at, fmt.Sprintf("%s is outside %s; while it sounds the line has %s",
				s.Chord, a.Key, strings.Join(altered, ", ")), ""))
		}
		if !s.Chord.HasThird() {
			list = append(list, a.mistake(at, fmt.Sprintf(
				"%s has no third among its tones; the line arrives with one of the key's that goes with it", s.Chord), ""))
		}
	}
	return list
}

// stretchWarnings tells of the first third of each written bar that lies outside
// the position.
func (a *arranger) stretchWarnings() (list ErrorList) {
	fret, fixed := a.score.Position.Fret()
	if !fixed {
		return nil
	}
	told := map[int]bool{}
	for _, t := range a.score.Line {
		bar := t.Tick / a.Meter.Bar()
		written := a.score.Bars[bar].Written
		if told[written] {
			continue
		}
		for _, place := range []neck.Place{t.Pair.Lower, t.Pair.Upper} {
			if place.Fret < fret || place.Fret > fret+neck.Span {
				told[written] = true
				list = append(list, a.mistake(span{a.Chart[written].Pos, 0}, fmt.Sprintf(
					"bar %d: %s is a stretch: fret %d, outside position %d to %d",
					bar+1, t.Third, place.Fret, fret, fret+neck.Span), ""))
				break
			}
		}
	}
	return list
}
