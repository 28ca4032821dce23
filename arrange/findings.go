package arrange

import (
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
	"thirdwise/theory/remedy"
)

// Tempos beyond these, in beats a minute, get a warning.
const (
	slowTempo = 30
	fastTempo = 300
)

// findings lists what a teacher may want to know, in the order of the file.
func (a *arranger) findings() source.Findings {
	list := slices.Concat(a.Findings(), a.extremeTempos(), a.holes(), a.chordNotes(), a.strayNotes(), a.stretches(), a.alternation())
	list.Sort()
	return list
}

func (a *arranger) extremeTempos() (list source.Findings) {
	for i, tempo := range a.Tempos {
		at, ok := a.TempoSpan(i)
		switch {
		case !ok: // it does not come from the file
		case tempo < slowTempo:
			list = append(list, a.Finding(source.Warning, at, fmt.Sprintf("%d beats per minute is very slow", tempo),
				remedy.Say(fmt.Sprintf("few can keep time below %d", slowTempo))))
		case tempo > fastTempo:
			list = append(list, a.Finding(source.Warning, at, fmt.Sprintf("%d beats per minute is very fast", tempo),
				remedy.Say(fmt.Sprintf("few can keep up above %d", fastTempo))))
		}
	}
	return list
}

// chordNotes tells of each chord outside the key, and of each that has no
// third of its own, where it first stands.
func (a *arranger) chordNotes() (list source.Findings) {
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
				altered = append(altered, fmt.Sprintf("%s for %s", asIn(s.Chord, now), own))
			}
		}
		if len(altered) > 0 {
			where := "is outside " + a.Key.String()
			if a.Key.Owns(s.Chord) {
				where = fmt.Sprintf("belongs to another form of %s minor", a.Key.Tonic)
			}
			list = append(list, a.Finding(source.Note, s.written.At, fmt.Sprintf("%s %s; while it sounds, the line has %s",
				s.Chord, where, strings.Join(altered, ", ")), remedy.Remedy{}))
		}
		if !s.Chord.HasThird() {
			list = append(list, a.Finding(source.Note, s.written.At,
				fmt.Sprintf("%s has no third of its own; the line arrives on one of the key's that goes with it", s.Chord), remedy.Remedy{}))
		}
	}
	return list
}

// asIn names a tone of the line as the chord that it belongs to does, and says how it is
// written where that is another way: the A♭ of a line over E7♯9♯11 is the chord's G♯. A
// chord's F♯♯ is rather called the G that it is written as.
func asIn(c theory.Chord, t theory.Tone) string {
	for _, own := range c.Tones() {
		if own.Class() == t.Class() && own != t && max(own.Alter, -own.Alter) <= max(t.Alter, -t.Alter) {
			return fmt.Sprintf("%s (written %s)", own, t)
		}
	}
	return t.String()
}

// strayNotes tells of each note that the teacher wrote into the line and that the scale in
// force has otherwise: mostly a sharp or flat of the key was left out.
func (a *arranger) strayNotes() (list source.Findings) {
	told := map[source.Span]bool{} // where a bar is played again
	for _, s := range a.spans {
		bar := a.score.Bars[s.bar]
		slots := a.Line.Own[bar.Written]
		for i, slot := range slots {
			tick := bar.Tick + i*a.Meter.Bar()/len(slots)
			if slot.Lower == nil || tick < s.Tick || tick >= s.Tick+s.Length || s.Scale.Contains(slot.Lower.Tone) || told[slot.At] {
				continue
			}
			told[slot.At] = true
			meant := theory.Pitch{Tone: s.Scale.Tone(slot.Lower.Letter), Octave: slot.Lower.Octave}
			list = append(list, a.Finding(source.Warning, slot.At,
				fmt.Sprintf("bar %d: over %s the line has %s, not %s", bar.Number, s.Chord, meant.Tone, slot.Lower.Tone),
				remedy.Write("write %s, unless "+slot.Lower.ASCII()+" is what you mean", meant.ASCII())))
		}
	}
	return list
}

// stretches tells of each third that lies outside the position, where it
// is first played.
func (a *arranger) stretches() (list source.Findings) {
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
				list = append(list, a.warnAt(t.Tick, fmt.Sprintf("%s is a stretch to fret %d; the position spans frets %d to %d",
					t.Notes, place.Fret, fret, fret+neck.Span), "let the hand move for it, or ask for another position"))
				break
			}
		}
	}
	return list
}

// warnAt makes a warning of the written bar that is played at a tick of the score.
func (a *arranger) warnAt(tick int, message, words string) source.Finding {
	bar := a.score.Bars[tick/a.Meter.Bar()]
	return a.Finding(source.Warning, source.Span{Pos: a.Chart[bar.Written].At}, fmt.Sprintf("bar %d: %s", bar.Number, message), remedy.Say(words))
}

// alternation tells where the line first alternates between two thirds, as it must
// where the position has no others beside them, and of the lowest position in which
// it need not.
func (a *arranger) alternation() (list source.Findings) {
	at := alternates(a.score.Line)
	if at < 0 {
		return nil
	}
	if _, own := a.Line.Own[a.score.Bars[a.score.Line[at].Tick/a.Meter.Bar()].Written]; own {
		return nil // as the teacher wrote it
	}
	words := "widen the compass (low and high), or ask for a lower density"
	for _, p := range a.Neck.Candidates() {
		if other, err := a.lineIn(p, a.Line.Variant); err == nil && alternates(other) < 0 {
			words = "ask for position " + p.String()
			break
		}
	}
	first := a.score.Line[at]
	return source.Findings{a.warnAt(first.Tick, fmt.Sprintf("the line alternates between %s and %s, because no others are in reach",
		first.Notes, a.score.Line[at+1].Notes), words)}
}

// alternates returns the index of the first third with which a line begins to
// alternate between two, for as many thirds as are heard as nothing else; -1 where
// it does not.
func alternates(line []score.Third) int {
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
