package arrange

import (
	"fmt"
	"slices"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// defaultStrums holds each meter's own strumming pattern, one sign a slot of the
// bar (common practice: strong beats down, off-beats up).
var defaultStrums = map[string]string{
	"2/4":  "D-DU",
	"3/4":  "D-DUDU",
	"4/4":  "D-DU-UDU",
	"5/4":  "D-DUD-DUDU",
	"7/4":  "D-DUD-DUD-DUDU",
	"2/2":  "D-DU",
	"6/8":  "D-UD-U",
	"7/8":  "D-D-D-U",
	"9/8":  "D-UD-UD-U",
	"12/8": "D-UD-UD-UD-U",
}

// strumOf returns the exercise's strumming pattern, or else the meter's.
func strumOf(e *exercise.Exercise) []exercise.StrumSign {
	if e.Strum != nil {
		return e.Strum
	}
	usual := meter.Meter{Beats: e.Meter.Beats, Unit: e.Meter.Unit}
	return []exercise.StrumSign(defaultStrums[usual.String()])
}

// pattern writes a strumming pattern as a score has it.
func pattern(signs []exercise.StrumSign) string {
	text := make([]byte, len(signs))
	for i, sign := range signs {
		text[i] = byte(sign)
	}
	return string(text)
}

// upStrings is how many strings, from the highest down, an up-strum strikes.
const upStrings = 4

// strums writes the chords part: the pattern's strokes over each chord's grip.
// Every chord begins with a down-strum, whatever the pattern has there.
func strums(s *score.Score, pattern []exercise.StrumSign) []score.Strum {
	var all []score.Strum
	slot := s.Meter.Bar() / len(pattern)
	for _, bar := range s.Bars {
		for _, span := range bar.Chords {
			if span.None {
				continue
			}
			end := span.Tick + span.Length
			first := len(all)
			notes := gripNotes(span, s.Neck)
			all = append(all, downStrum(notes, span.Tick))
			for i, sign := range pattern {
				tick := bar.Tick + i*slot
				if tick <= span.Tick || tick >= end {
					continue
				}
				switch sign {
				case exercise.Down:
					all = append(all, downStrum(notes, tick))
				case exercise.Up:
					all = append(all, upStrum(notes, tick))
				}
			}
			for i := first; i < len(all); i++ {
				until := end
				if i+1 < len(all) {
					until = all[i+1].Tick
				}
				all[i].Length = until - all[i].Tick
			}
		}
	}
	return all
}

// downStrum writes a stroke across a grip's notes, from the lowest string up.
func downStrum(notes []score.StrumNote, tick int) score.Strum {
	return score.Strum{Tick: tick, Notes: notes}
}

// upStrum writes a stroke across the top of a grip's notes, from the highest
// string down.
func upStrum(notes []score.StrumNote, tick int) score.Strum {
	top := slices.Clone(notes[max(0, len(notes)-upStrings):])
	slices.Reverse(top)
	return score.Strum{Tick: tick, Up: true, Notes: top}
}

// gripNotes spells the notes of a span's grip, from the lowest string up.
func gripNotes(c score.ChordSpan, n neck.Neck) []score.StrumNote {
	var notes []score.StrumNote
	for str, fret := range c.Grip.Strings() {
		if fret == neck.NotPlayed {
			continue
		}
		place := neck.Place{String: str, Fret: fret}
		notes = append(notes, score.StrumNote{Pitch: spell(c, n.Key(place)), Place: place})
	}
	return notes
}

// spell returns the pitch of a chord's tone that sounds a MIDI key. There is one:
// the grips that [neck.Neck.Comp] finds sound a chord's tones and its bass alone.
func spell(c score.ChordSpan, key int) theory.Pitch {
	for _, tone := range append(c.Chord.Tones(), c.Chord.Bass) {
		if (key-tone.Class())%12 == 0 {
			return tone.Sounding(key)
		}
	}
	panic(fmt.Sprintf("grip %v of %v sounds MIDI key %d, which is not a tone of it", c.Grip, c.Chord, key))
}
