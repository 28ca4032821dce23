package paper

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// lineScore returns a score whose line sounds thirds at the given ticks, each
// until the next; where a tick is negative, the line falls silent there.
func lineScore(m meter.Meter, bars int, ticks ...int) *score.Score {
	key := theory.Key{Tonic: theory.Tone{Letter: theory.C}}
	s := &score.Score{
		Title: "Line", Key: key, Meter: m, Tempos: []int{60}, CountIn: 1, Passes: 1,
		Neck: neck.Neck{Tuning: neck.Standard()}, Position: neck.Open,
	}
	c := theory.Chord{Root: key.Tonic, Bass: key.Tonic}
	for i := range bars {
		s.Bars = append(s.Bars, score.Bar{
			Tick: i * m.Bar(), Written: i,
			Chords: []score.ChordSpan{{
				Tick: i * m.Bar(), Length: m.Bar(), Chord: c, Numeral: "I", Scale: key.Scale(),
				Grip: neck.Grip{neck.NotPlayed, 3, 2, 0, 1, 0},
			}},
		})
	}
	for i, tick := range ticks {
		if tick < 0 {
			continue
		}
		end := s.Length()
		if i+1 < len(ticks) {
			end = max(ticks[i+1], -ticks[i+1])
		}
		third := key.Scale().Third(theory.Pitch{Tone: key.Tonic, Octave: 4}.Staff() + i%5)
		role := score.Passing
		if i == 0 {
			role = score.Arrival
		}
		s.Line = append(s.Line, score.Third{
			Tick: tick, Length: end - tick, Notes: third, Role: role,
			Places: s.Neck.Pairs(third)[0],
		})
	}
	return s
}

// rhythmOf prints a measure's rhythm in a line: "8~ 4. r2 (3:2 8 8 8)".
func rhythmOf(m Measure) string {
	var b strings.Builder
	for i, e := range m.Events {
		if i > 0 {
			b.WriteByte(' ')
		}
		if e.Tuplet >= 0 && m.Tuplets[e.Tuplet].First == i {
			fmt.Fprintf(&b, "(%d:%d ", m.Tuplets[e.Tuplet].Actual, m.Tuplets[e.Tuplet].Normal)
		}
		if e.Rest() {
			b.WriteByte('r')
		}
		b.WriteString(fmt.Sprint(int(e.Value)) + strings.Repeat(".", e.Dots))
		if e.TiedTo {
			b.WriteByte('~')
		}
		if e.Tuplet >= 0 && m.Tuplets[e.Tuplet].Last == i {
			b.WriteByte(')')
		}
	}
	return b.String()
}

// The examples that handbooks of notation print for each meter; common
// practice, as in Gould, Behind Bars, chapters on rhythm and on rests.
func TestRhythmIsWrittenAsHandbooksDo(t *testing.T) {
	in := func(beats, unit int) meter.Meter { return meter.Meter{Beats: beats, Unit: unit} }
	for _, c := range []struct {
		in    meter.Meter
		ticks []int
		want  string
	}{
		{in(4, 4), []int{0}, "1"},
		{in(4, 4), []int{0, 1440}, "2. 4"},
		{in(4, 4), []int{0, 480, 1440}, "4 2 4"},
		{in(4, 4), []int{0, 240, 720}, "8 4 8~ 2"},
		{in(4, 4), []int{0, 1680}, "2~ 4. 8"},
		{in(4, 4), []int{0, 720, 1200}, "4. 8~ 8 4."},
		{in(4, 4), []int{0, 720, 1680}, "4. 8~ 4. 8"},
		{in(4, 4), []int{-1, 480, -960}, "r4 4 r2"},
		{in(4, 4), []int{0, -480}, "4 r4 r2"},
		{in(4, 4), []int{0, -240, 1440}, "8 r8 r4 r4 4"},
		{in(3, 4), []int{0}, "2."},
		{in(3, 4), []int{0, 960}, "2 4"},
		{in(3, 4), []int{0, -480}, "4 r4 r4"},
		{in(3, 4), []int{0, 720}, "4. 8~ 4"},
		{in(2, 2), []int{0, 960, 1440}, "2 4 4"},
		{in(5, 4), []int{0}, "2.~ 2"},
		{in(5, 4), []int{0, 480}, "4 2~ 2"},
		{in(6, 8), []int{0}, "2."},
		{in(6, 8), []int{0, 720, 1200}, "4. 4 8"},
		{in(6, 8), []int{0, 240, 960}, "8 4~ 8 4"},
		{in(6, 8), []int{0, 360, 720}, "8. 8. 4."},
		{in(6, 8), []int{0, -720}, "4. r4."},
		{in(6, 8), []int{-1, 1200}, "r4. r4 8"},
		{in(6, 8), []int{0, -240, 720}, "8 r8 r8 4."},
		{in(9, 8), []int{0}, "2.~ 4."},
		{in(12, 8), []int{0}, "1."},
		{in(12, 8), []int{0, 2640}, "2.~ 4.~ 4 8"},
		{in(4, 4), []int{0, 480, 640, 800, 960}, "4 (3:2 8 8 8) 2"},
		{in(4, 4), []int{0, 1760}, "2.~ (3:2 4 8)"},
		{in(4, 4), []int{0, 1600}, "2.~ (3:2 8 4)"},
		{in(4, 4), []int{0, 640, 1280}, "(3:2 2 2 2)"},
		{in(4, 4), []int{0, 320, 640, 960}, "(3:2 4 4 4) 2"},
		{in(4, 4), []int{0, 384, 768, 1152, 1536}, "(5:4 4 4 4 4 4)"},
		{in(3, 4), []int{0, 160, 320, 480, 640, 800, 960}, "(3:2 8 8 8) (3:2 8 8 8) 4"},
	} {
		n := Notate(lineScore(c.in, 1, c.ticks...))
		if got := rhythmOf(n.Measures[0]); got != c.want {
			t.Errorf("%s, thirds at %v: written %q, want %q", c.in, c.ticks, got, c.want)
		}
	}
}

// anyScore draws a score with any starts that an arranger could choose: chords
// in equal shares of the bar, moving thirds on any grid, thirds held across bar
// lines, and holes.
func anyScore(t *rapid.T) *score.Score {
	meters := meter.Meters()
	in := meters[rapid.IntRange(0, len(meters)-1).Draw(t, "meter")]
	bars := rapid.IntRange(1, 4).Draw(t, "bars")
	var ticks []int
	for bar := range bars {
		share := rapid.SampledFrom([]int{1, 2, 3, 4, 5, 6, 8}).Draw(t, "shares")
		if in.Bar()%share != 0 {
			share = 1
		}
		starts := map[int]bool{}
		for i := range share {
			starts[i*in.Bar()/share] = rapid.Bool().Draw(t, "begins")
		}
		grid := rapid.SampledFrom([]int{480, 240, 160, 120}).Draw(t, "grid")
		for tick := 0; tick < in.Bar(); tick += grid {
			if rapid.IntRange(0, 2).Draw(t, "moves") == 0 {
				starts[tick] = true
			}
		}
		for tick := range in.Bar() {
			if !starts[tick] {
				continue
			}
			at := bar*in.Bar() + tick
			if at > 0 && rapid.IntRange(0, 5).Draw(t, "silent") == 0 {
				at = -at
			}
			ticks = append(ticks, at)
		}
	}
	return lineScore(in, bars, ticks...)
}

func TestNoteValuesFillEveryMeasure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScore(t)
		for _, m := range Notate(s).Measures {
			at := 0
			for i, e := range m.Events {
				if e.Tick != at || e.Length <= 0 {
					t.Fatalf("measure %d, event %d begins at %d for %d ticks, the one before ends at %d", m.Number, i, e.Tick, e.Length, at)
				}
				at = e.End()
				if e.Tuplet < -1 || e.Tuplet >= len(m.Tuplets) {
					t.Fatalf("measure %d, event %d is in tuplet %d of %d", m.Number, i, e.Tuplet, len(m.Tuplets))
				}
				if e.MeasureRest {
					continue
				}
				num, den := e.Length, whole
				if e.Tuplet >= 0 {
					tuplet := m.Tuplets[e.Tuplet]
					num, den = num*tuplet.Actual, den*tuplet.Normal
				}
				dotted := 1<<(e.Dots+1) - 1 // over 2^dots
				if num*int(e.Value)<<e.Dots != den*dotted {
					t.Fatalf("measure %d: %d ticks are written as a 1/%d with %d dots: %s", m.Number, e.Length, e.Value, e.Dots, rhythmOf(m))
				}
			}
			if at != m.Length {
				t.Fatalf("measure %d ends at %d of %d ticks", m.Number, at, m.Length)
			}
			for i, tuplet := range m.Tuplets {
				for j := tuplet.First; j <= tuplet.Last; j++ {
					if m.Events[j].Tuplet != i {
						t.Fatalf("measure %d: event %d is in tuplet %d, not %d", m.Number, j, m.Events[j].Tuplet, i)
					}
				}
			}
		}
	})
}

func TestTiedEventsSumToEachThird(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScore(t)
		lengths := make([]int, len(s.Line))
		previous := -1
		for _, m := range Notate(s).Measures {
			for i, e := range m.Events {
				if e.Rest() {
					previous = -1
					continue
				}
				third := e.Thirds[0]
				if lengths[third] == 0 && m.Tick+e.Tick != s.Line[third].Tick {
					t.Fatalf("third %d is written at tick %d, sounds at %d", third, m.Tick+e.Tick, s.Line[third].Tick)
				}
				if e.TiedFrom != (third == previous) {
					t.Fatalf("measure %d, event %d: tied from before is %v", m.Number, i, e.TiedFrom)
				}
				lengths[third] += e.Length
				if e.TiedTo != (lengths[third] < s.Line[third].Length) {
					t.Fatalf("measure %d, event %d: tied on is %v", m.Number, i, e.TiedTo)
				}
				previous = third
			}
		}
		for i, length := range lengths {
			if length != s.Line[i].Length {
				t.Fatalf("third %d lasts %d ticks, written are %d", i, s.Line[i].Length, length)
			}
		}
	})
}

func TestRestsStayWithinTheirBeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScore(t)
		beat := s.Meter.Beat()
		for _, m := range Notate(s).Measures {
			for _, e := range m.Events {
				if !e.Rest() || e.MeasureRest || e.Tuplet >= 0 {
					continue
				}
				if e.Length > beat && e.Tick%e.Length != 0 && len(slices.Compact(s.Meter.Groups())) == 1 {
					t.Fatalf("%s: a rest of %d ticks at %d: %s", s.Meter, e.Length, e.Tick, rhythmOf(m))
				}
				if e.Length <= beat && s.Meter.BeatAt(e.Tick) != s.Meter.BeatAt(e.End()-1) {
					t.Fatalf("%s: a rest of %d ticks at %d crosses the beat: %s", s.Meter, e.Length, e.Tick, rhythmOf(m))
				}
			}
		}
	})
}

// Eighths may stand under one beam within half a bar of 4/4, never across its
// middle (Gould, Behind Bars, from memory).
func TestBeamsStayWithinTheirBeatOrHalf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScore(t)
		for _, m := range Notate(s).Measures {
			begun := -1
			for i, e := range m.Events {
				if len(e.Beams) == 0 {
					if begun >= 0 {
						t.Fatalf("measure %d: a beam from event %d does not end: %s", m.Number, begun, rhythmOf(m))
					}
					continue
				}
				if len(e.Beams) != e.Value.Flags() {
					t.Fatalf("a 1/%d has %d beams", e.Value, len(e.Beams))
				}
				switch e.Beams[0] {
				case BeamBegins:
					begun = i
				case BeamEnds:
					first := m.Events[begun]
					if e.Tuplet != first.Tuplet {
						t.Fatalf("a beam leads into a tuplet, or out of one: %s", rhythmOf(m))
					}
					half := s.Meter.Unit == 4 && s.Meter.Beats%2 == 0 && first.Tick/960 == e.Tick/960 && e.Value == 8 && first.Value == 8
					if e.Tuplet < 0 && !half && s.Meter.BeatAt(first.Tick) != s.Meter.BeatAt(e.Tick) {
						t.Fatalf("%s: a beam from %d to %d", s.Meter, first.Tick, e.Tick)
					}
					begun = -1
				case BeamContinues:
				default:
					t.Fatalf("the first beam is a stub: %s", rhythmOf(m))
				}
			}
		}
	})
}

// The first beam goes through; the sixteenth of a dotted figure has a stub that
// points to its eighth (common practice).
func TestStubsPointToTheirLongerNote(t *testing.T) {
	n := Notate(lineScore(meter.Meter{Beats: 2, Unit: 4}, 1, 0, 360, 480, 600))
	events := n.Measures[0].Events
	if got := fmt.Sprint(events[0].Beams, events[1].Beams); got != fmt.Sprint([]BeamPart{BeamBegins}, []BeamPart{BeamEnds, HookBackward}) {
		t.Errorf("dotted eighth and sixteenth: %s", got)
	}
	if got := fmt.Sprint(events[2].Beams, events[3].Beams); got != fmt.Sprint([]BeamPart{BeamBegins, HookForward}, []BeamPart{BeamEnds}) {
		t.Errorf("sixteenth and dotted eighth: %s", got)
	}
}

// beamsOf prints a measure's beams, level by level: "2" notes under one beam, "1"
// note alone, "." none.
func beamsOf(m Measure, level int) (out string) {
	count := 0
	for _, e := range m.Events {
		switch {
		case len(e.Beams) <= level:
			out += "."
		case e.Beams[level] == BeamBegins:
			count = 1
		case e.Beams[level] == BeamContinues:
			count++
		case e.Beams[level] == BeamEnds:
			out += fmt.Sprint(count + 1)
		default:
			out += "1"
		}
	}
	return out
}

// Common practice; as in Gould, Behind Bars, on beaming (from memory).
func TestBeamsShowTheHalvesAndTheBeats(t *testing.T) {
	every := func(step, length int) (ticks []int) {
		for tick := 0; tick < length; tick += step {
			ticks = append(ticks, tick)
		}
		return ticks
	}
	for _, c := range []struct {
		beats, unit   int
		ticks         []int
		first, second string
	}{
		{4, 4, every(240, 1920), "44", "........"},
		{4, 4, every(120, 1920), "4444", "4444"},
		{4, 4, []int{0, 240, 480, 720, 840, 960, 1200, 1440, 1680}, "234", "...2...."},
		{4, 4, []int{0, 960, 1200, 1440, 1680}, ".4", "....."},
		{4, 4, []int{0, 720, 960, 1200, 1440, 1680}, "..4", "......"},
		{3, 4, every(240, 1440), "222", "......"},
		{2, 4, every(240, 960), "4", "...."},
		{2, 2, every(240, 1920), "44", "........"},
		{2, 2, every(120, 1920), "88", "4444"},
		{6, 8, every(240, 1440), "33", "......"},
	} {
		m := Notate(lineScore(meter.Meter{Beats: c.beats, Unit: c.unit}, 1, c.ticks...)).Measures[0]
		if first, second := beamsOf(m, 0), beamsOf(m, 1); first != c.first || second != c.second {
			t.Errorf("%d/%d, thirds at %v: beams %s and %s, want %s and %s", c.beats, c.unit, c.ticks, first, second, c.first, c.second)
		}
	}
}

func TestAccidentalsHoldToTheBarLine(t *testing.T) {
	s := lineScore(meter.Meter{Beats: 2, Unit: 4}, 2, 0, 240, 480, 720, 960)
	e4 := theory.Pitch{Tone: theory.Tone{Letter: theory.E}, Octave: 4}
	g4 := theory.Pitch{Tone: theory.Tone{Letter: theory.G}, Octave: 4}
	gSharp := theory.Pitch{Tone: theory.Tone{Letter: theory.G, Alter: 1}, Octave: 4}
	for i, upper := range []theory.Pitch{g4, gSharp, gSharp, g4, gSharp} {
		s.Line[i].Notes = theory.Third{Lower: e4, Upper: upper}
	}
	want := []Accidental{NoAccidental, Needed, NoAccidental, Needed, Needed}
	i := 0
	for _, m := range Notate(s).Measures {
		for _, e := range m.Events {
			if e.Accidentals != [2]Accidental{NoAccidental, want[i]} {
				t.Errorf("event %d: accidentals %v, want on the upper note: %v", i, e.Accidentals, want[i])
			}
			i++
		}
	}
}

// A note tied over the bar line keeps its accidental, and the next one has it
// anew (common practice).
func TestAccidentalsOfTiedNotesEndWithTheTie(t *testing.T) {
	s := lineScore(meter.Meter{Beats: 2, Unit: 4}, 2, 0, 720, 1200)
	e4 := theory.Pitch{Tone: theory.Tone{Letter: theory.E}, Octave: 4}
	gSharp := theory.Pitch{Tone: theory.Tone{Letter: theory.G, Alter: 1}, Octave: 4}
	for i := range s.Line[1:] {
		s.Line[i+1].Notes = theory.Third{Lower: e4, Upper: gSharp}
	}
	var got []Accidental
	for _, m := range Notate(s).Measures {
		for _, e := range m.Events {
			got = append(got, e.Accidentals[1])
		}
	}
	if want := []Accidental{NoAccidental, Needed, NoAccidental, Needed}; !slices.Equal(got, want) {
		t.Errorf("accidentals %v, want %v", got, want)
	}
}

// A letter that was altered in the bar before, or in another octave, is reminded
// of once (Gould, Behind Bars, on cautionary accidentals, from memory).
func TestAlteredLettersAreRemindedOf(t *testing.T) {
	s := lineScore(meter.Meter{Beats: 2, Unit: 4}, 3, 0, 480, 960, 1200, 1440, 1920)
	g := func(alter, octave int) theory.Pitch {
		return theory.Pitch{Tone: theory.Tone{Letter: theory.G, Alter: alter}, Octave: octave}
	}
	e4 := theory.Pitch{Tone: theory.Tone{Letter: theory.E}, Octave: 4}
	for i, upper := range []theory.Pitch{g(1, 4), g(0, 5), g(0, 4), g(1, 4), g(0, 5), g(0, 5)} {
		s.Line[i].Notes = theory.Third{Lower: e4, Upper: upper}
	}
	var got []Accidental
	for _, m := range Notate(s).Measures {
		for _, e := range m.Events {
			got = append(got, e.Accidentals[1])
		}
	}
	want := []Accidental{Needed, Courtesy, NoAccidental, Needed, Courtesy, NoAccidental}
	if !slices.Equal(got, want) {
		t.Errorf("accidentals %v, want %v", got, want)
	}
}

// repeated returns a score of bars that the chart plays as the indexes say,
// with a different line wherever the marks differ; capitals are the same thirds
// elsewhere on the neck.
func repeated(written []int, marks string) *score.Score {
	in := meter.Meter{Beats: 4, Unit: 4}
	var ticks []int
	for i := range written {
		ticks = append(ticks, i*in.Bar())
	}
	s := lineScore(in, len(written), ticks...)
	for i, w := range written {
		s.Bars[i].Written = w
		s.Line[i].Role = score.Arrival
		mark := unicode.ToLower(rune(marks[i]))
		s.Line[i].Notes = s.Key.Scale().Third(28 + int(mark-'a'))
		s.Line[i].Places = s.Neck.Pairs(s.Line[i].Notes)[0]
		if mark != rune(marks[i]) {
			s.Line[i].Places = s.Neck.Pairs(s.Line[i].Notes)[1]
		}
	}
	return s
}

// layoutOf prints the measures' bars with their repeat signs in a line.
func layoutOf(n *Notation) string {
	var b strings.Builder
	for _, m := range n.Measures {
		if m.RepeatOpens {
			b.WriteString("|: ")
		}
		if m.Ending != nil && m.Ending.Begins {
			fmt.Fprintf(&b, "%v", m.Ending.Times)
		}
		fmt.Fprintf(&b, "%v ", m.Bars)
		if m.RepeatTimes > 0 {
			fmt.Fprintf(&b, ":|x%d ", m.RepeatTimes)
		}
	}
	return strings.TrimSpace(b.String())
}

func TestRepeatsAreFolded(t *testing.T) {
	for _, c := range []struct {
		written []int
		marks   string
		want    string
	}{
		{[]int{0, 1, 2}, "abc", "[0] [1] [2]"},
		{[]int{0, 1, 0, 1}, "abab", "|: [0 2] [1 3] :|x2"},
		{[]int{0, 1, 1, 1, 2}, "abbbc", "[0] |: [1 2 3] :|x3 [4]"},
		{[]int{0, 1, 0, 1, 2}, "abacd", "|: [0 2] [1][1] :|x2 [2][3] [4]"},
		{[]int{0, 1, 0, 1, 0, 1}, "ababac", "|: [0 2 4] [1 2][1 3] :|x3 [3][5]"},
		{[]int{0, 1, 0, 1}, "abcb", "[0] [1] [2] [3]"},
		{[]int{0, 0, 1}, "abc", "[0] [1] [2]"},
		{[]int{0, 1, 2, 0, 1, 2}, "abcade", "[0] [1] [2] [3] [4] [5]"}, // too little is shared
		{[]int{0, 1, 0, 1}, "abaB", "|: [0 2] [1][1] :|x2 [2][3]"},
		{[]int{0, 1, 2, 3, 0, 1, 2, 3}, "abcdabce", "|: [0 4] [1 5] [2 6] [1][3] :|x2 [2][7]"},
	} {
		if got := layoutOf(Notate(repeated(c.written, c.marks))); got != c.want {
			t.Errorf("bars %v with lines %s: %s, want %s", c.written, c.marks, got, c.want)
		}
	}
}
