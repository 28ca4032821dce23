package arrange

import (
	"fmt"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
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

// patterns returns the pattern of each bar, the exercise's in turn, or else the meter's,
// and tells the score which there are. Bars that the chart writes once have one pattern,
// however often they come.
func (a *arranger) patterns() []score.Pattern {
	var written []score.Bar // each once, in the chart's order
	for _, bar := range a.score.Bars {
		for bar.Written >= len(written) {
			written = append(written, bar)
		}
	}
	inTurn, fill := a.Strum, score.Pattern(nil)
	if inTurn == nil {
		usual := usualStrums[meter.Meter{Beats: a.Meter.Beats, Unit: a.Meter.Unit}.String()]
		inTurn, fill = []score.Pattern{patternOf(usual.first), patternOf(usual.second)}, patternOf(usual.fill)
	}
	patterns := make([]score.Pattern, len(a.score.Bars))
	for i, bar := range a.score.Bars {
		patterns[i] = inTurn[bar.Written%len(inTurn)]
		if fill != nil && endsPhrase(written, bar.Written) {
			patterns[i], a.score.Fill = fill, fill
		}
	}
	a.score.Patterns = inTurn[:min(len(inTurn), len(written))]
	return patterns
}

// patternOf reads a usual strum.
func patternOf(signs string) score.Pattern {
	var p score.Pattern
	for _, sign := range signs {
		p = append(p, score.Stroke{Sign: score.StrumSign(sign)})
	}
	return p
}

// endsPhrase reports whether a bar is the last of a phrase: of its section, or of four
// bars of it, or of five where the last would be left over.
func endsPhrase(bars []score.Bar, i int) bool {
	sectionEnds := func(i int) bool { return i == len(bars)-1 || bars[i+1].Section != "" }
	if sectionEnds(i) {
		return i > 0 // a single bar is hardly one
	}
	begin := i
	for begin > 0 && bars[begin].Section == "" {
		begin--
	}
	return (i-begin)%rhythm.PhraseBars == rhythm.PhraseBars-1 && !sectionEnds(i+1)
}

// upStrings is how many strings, from the highest down, an up-strum strikes.
const upStrings = 4

// strums writes the chords part: each bar's pattern over its chords' grips. Every chord
// begins with a stroke, down or on its bass string, whatever the pattern has there.
func strums(s *score.Score, patterns []score.Pattern) []score.Strum {
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
				if stroke.Sign != score.Ring {
					if one := struck(stroke, notes, tick); len(one.Notes) > 0 {
						all = append(all, one)
					}
				}
			}
			if !begun {
				all = append(all, struck(beginning(score.Stroke{}, patterns[b], false), notes, span.Tick))
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
func beginning(stroke score.Stroke, of score.Pattern, there bool) score.Stroke {
	picks := slices.ContainsFunc(of, func(s score.Stroke) bool { return s.Sign == score.Pick })
	switch {
	case picks && there && stroke.Sign == score.Pick && !slices.Contains(stroke.Strings, score.Root):
		return score.Stroke{Sign: score.Pick, Strings: append([]int{score.Root}, stroke.Strings...)}
	case picks && there && stroke.Sign == score.Pick:
		return stroke
	case picks:
		return score.Stroke{Sign: score.Pick, Strings: []int{score.Root}}
	case there && stroke.Sign == score.Damped:
		return stroke
	}
	return score.Stroke{Sign: score.Down, Accent: there && stroke.Accent}
}

// struck writes a stroke over a grip's notes, which come from the lowest string up: down
// across all, up across the highest, or those strings that are plucked.
func struck(stroke score.Stroke, notes []score.StrumNote, tick int) score.Strum {
	out := score.Strum{Tick: tick, Notes: notes, Accent: stroke.Accent}
	switch stroke.Sign {
	case score.Up:
		top := slices.Clone(notes[max(0, len(notes)-upStrings):])
		slices.Reverse(top)
		out.Up, out.Notes = true, top
	case score.Damped:
		out.Damped = true
	case score.Pick:
		out.Picked, out.Notes = true, nil
		for i, n := range notes {
			if slices.Contains(stroke.Strings, n.String) || i == 0 && slices.Contains(stroke.Strings, score.Root) {
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
