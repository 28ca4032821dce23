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

// A usualStrum is a meter's own strumming: two bars in turn, and one that fills the last
// bar of a phrase.
type usualStrum struct{ first, second, fill string }

// usualStrums holds each meter's, one sign a slot of the bar (common practice: strong
// beats down, off-beats up; the bars are our own).
var usualStrums = map[string]usualStrum{
	"2/4":  {"D-DU", "D-D-", "DUDU"},
	"3/4":  {"D-DUDU", "D-D-DU", "DUDUDU"},
	"4/4":  {"D-DU-UDU", "D-D-DUDU", "D-DUDUDU"},
	"5/4":  {"D-DUD-DUDU", "D-D-D-DUDU", "D-DUDUDUDU"},
	"7/4":  {"D-DUD-DUD-DUDU", "D-D-D-DUD-DUDU", "D-DUD-DUDUDUDU"},
	"2/2":  {"D-DU", "D-D-", "DUDU"},
	"6/8":  {"D-UD-U", "D--D-U", "D-UDDU"},
	"7/8":  {"D-D-D-U", "D-D-D--", "D-DUD-U"},
	"9/8":  {"D-UD-UD-U", "D--D-UD-U", "D-UD-UDDU"},
	"12/8": {"D-UD-UD-UD-U", "D--D-UD--D-U", "D-UD-UD-UDDU"},
}

// patternsOf returns the pattern of each bar: the exercise's, in turn, or else the
// meter's. Bars that the chart writes once have one pattern, however often they come.
func patternsOf(e *exercise.Exercise, bars []score.Bar) []exercise.Pattern {
	usual := usualStrums[meter.Meter{Beats: e.Meter.Beats, Unit: e.Meter.Unit}.String()]
	var written []score.Bar // each once, in the chart's order
	for _, bar := range bars {
		for bar.Written >= len(written) {
			written = append(written, bar)
		}
	}
	patterns := make([]exercise.Pattern, len(bars))
	for i, bar := range bars {
		switch n := bar.Written; {
		case e.Strum != nil:
			patterns[i] = e.Strum[n%len(e.Strum)]
		case endsPhrase(written, n):
			patterns[i] = patternOf(usual.fill)
		case n%2 == 1:
			patterns[i] = patternOf(usual.second)
		default:
			patterns[i] = patternOf(usual.first)
		}
	}
	return patterns
}

// patternOf reads a usual strum.
func patternOf(signs string) exercise.Pattern {
	var p exercise.Pattern
	for _, sign := range signs {
		p = append(p, exercise.Stroke{Sign: exercise.StrumSign(sign)})
	}
	return p
}

// phraseBars is how many bars a phrase has, unless its section ends before.
const phraseBars = 4

// endsPhrase reports whether a bar is the last of a phrase: of its section, or of four
// bars of it.
func endsPhrase(bars []score.Bar, i int) bool {
	if i == len(bars)-1 || bars[i+1].Section != "" {
		return i > 0 // a single bar is hardly one
	}
	begin := i
	for begin > 0 && bars[begin].Section == "" {
		begin--
	}
	return (i-begin)%phraseBars == phraseBars-1
}

// shown returns the pattern that the score shows, the first of those in turn: a damped
// stroke is a down-stroke on paper. A pick is not shown.
func shown(p exercise.Pattern) string {
	var signs []byte
	for _, stroke := range p {
		switch stroke.Sign {
		case exercise.Pick:
			return ""
		case exercise.Damped:
			signs = append(signs, byte(exercise.Down))
		default:
			signs = append(signs, byte(stroke.Sign))
		}
	}
	return string(signs)
}

// upStrings is how many strings, from the highest down, an up-strum strikes.
const upStrings = 4

// strums writes the chords part: each bar's pattern over its chords' grips. Every chord
// begins with a stroke, down or on its bass string, whatever the pattern has there.
func strums(s *score.Score, patterns []exercise.Pattern) []score.Strum {
	var all []score.Strum
	for b, bar := range s.Bars {
		slot := s.Meter.Bar() / len(patterns[b])
		for _, span := range bar.Chords {
			if span.None {
				continue
			}
			end := span.Tick + span.Length
			first := len(all)
			notes := gripNotes(span, s.Neck)
			begun := false
			for i, stroke := range patterns[b] {
				tick := bar.Tick + i*slot
				if tick < span.Tick || tick >= end {
					continue
				}
				if !begun {
					begun = true
					begins := beginning(stroke, patterns[b], tick == span.Tick)
					all = append(all, struck(begins, notes, span.Tick))
					if tick == span.Tick {
						continue
					}
				}
				if stroke.Sign != exercise.Ring {
					if one := struck(stroke, notes, tick); len(one.Notes) > 0 {
						all = append(all, one)
					}
				}
			}
			if !begun {
				all = append(all, struck(beginning(exercise.Stroke{}, patterns[b], false), notes, span.Tick))
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

// beginning returns the stroke with which a chord begins, where the pattern has another
// at its first tick, or has none there.
func beginning(stroke exercise.Stroke, of exercise.Pattern, there bool) exercise.Stroke {
	picks := slices.ContainsFunc(of, func(s exercise.Stroke) bool { return s.Sign == exercise.Pick })
	switch {
	case picks && there && stroke.Sign == exercise.Pick && !slices.Contains(stroke.Strings, exercise.Root):
		return exercise.Stroke{Sign: exercise.Pick, Strings: append([]int{exercise.Root}, stroke.Strings...)}
	case picks && there && stroke.Sign == exercise.Pick:
		return stroke
	case picks:
		return exercise.Stroke{Sign: exercise.Pick, Strings: []int{exercise.Root}}
	case there && stroke.Sign == exercise.Damped:
		return stroke
	}
	return exercise.Stroke{Sign: exercise.Down, Accent: there && stroke.Accent}
}

// struck writes a stroke over a grip's notes, which come from the lowest string up: down
// across all, up across the highest, or those strings that are plucked.
func struck(stroke exercise.Stroke, notes []score.StrumNote, tick int) score.Strum {
	out := score.Strum{Tick: tick, Notes: notes, Accent: stroke.Accent}
	switch stroke.Sign {
	case exercise.Up:
		top := slices.Clone(notes[max(0, len(notes)-upStrings):])
		slices.Reverse(top)
		out.Up, out.Notes = true, top
	case exercise.Damped:
		out.Damped = true
	case exercise.Pick:
		out.Picked, out.Notes = true, nil
		for i, n := range notes {
			if slices.Contains(stroke.Strings, n.String) || i == 0 && slices.Contains(stroke.Strings, exercise.Root) {
				out.Notes = append(out.Notes, n)
			}
		}
	}
	return out
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
// the grips that [comping.Choose] finds sound a chord's tones and its bass alone.
func spell(c score.ChordSpan, key int) theory.Pitch {
	for _, tone := range append(c.Chord.Tones(), c.Chord.Bass) {
		if (key-tone.Class())%12 == 0 {
			return tone.Sounding(key)
		}
	}
	panic(fmt.Sprintf("grip %v of %v sounds MIDI key %d, which is not a tone of it", c.Grip, c.Chord, key))
}
