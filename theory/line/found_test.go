package line_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory"
	"thirdwise/theory/chordscale"
	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
	"thirdwise/theory/theorytest"
)

// A charted is an exercise in a line of text. Its chart is bars with | between them; in
// a bar chords stand for equal shares, a point is no chord, and [ begins a section.
type charted struct {
	name, key, meter string
	slots, density   int // slots in a quarter; per cent
	chart, low, high string
	// how is what else is asked for: closed, push, home=1, variant=2; thirds that are
	// hard, or out of reach; first=0 part=2 times=2 endings=1,1, segments of a part that
	// comes again; own0=C4,-,.,x a bar's own thirds; rhythm0=x-.x its rhythm.
	how string
}

// lineOf returns the maker of the exercise's line, and its segments.
func (c charted) lineOf(t *testing.T) (line.Maker, []line.Segment) {
	key := theorytest.Key(t, c.key)
	m := maker(key, c.density, quarter/c.slots)
	var err error
	m.Rhythm.Meter, err = meter.Parse(c.meter)
	require.NoError(t, err)
	m.Low, m.High = staff(c.low), staff(c.high)
	m.Own, m.Rhythm.Written = map[int][]line.Slot{}, map[int][]rhythm.Sign{}
	var part line.RepeatedPart
	for _, asked := range strings.Fields(c.how) {
		name, value, _ := strings.Cut(asked, "=")
		number, _ := strconv.Atoi(value)
		bar, _ := strconv.Atoi(strings.TrimPrefix(strings.TrimPrefix(name, "own"), "rhythm"))
		switch strings.TrimRight(name, "0123456789") {
		case "closed":
			m.Closed = true
		case "push":
			m.Rhythm.Push = true
		case "home":
			m.Home = number
		case "variant":
			m.Variant = number
		case "hard":
			m.Effort = someAreHard
		case "reach":
			m.Effort = func(t theory.Third) (effort int, ok bool) { return t.Staff() % 2, t.Staff()%4 > 0 }
		case "first":
			part.First = number
		case "part":
			part.Length = number
		case "times":
			part.Times = number
		case "endings":
			for _, ending := range strings.Split(value, ",") {
				bars, err := strconv.Atoi(ending)
				require.NoError(t, err)
				part.Endings = append(part.Endings, bars)
			}
		case "own":
			m.Own[bar] = ownBar(value)
		case "rhythm":
			m.Rhythm.Written[bar] = []rhythm.Sign(value)
		default:
			t.Fatalf("%s: %q is not known", c.name, asked)
		}
	}
	segments := c.segments(t, key, m.Rhythm.Meter)
	if part.Times > 0 {
		m.Repeats = []line.RepeatedPart{part}
		at := part.First
		for time := range part.Times { // a bar that comes again is written once
			for i := range part.Length {
				segments[at+i].Bar = segments[part.First+i].Bar
			}
			at += part.Length + part.Ending(time)
		}
	}
	return m, segments
}

func ownBar(text string) (slots []line.Slot) {
	for _, sign := range strings.Split(text, ",") {
		switch sign {
		case "-", ".", "x":
			slots = append(slots, line.Slot{Sign: rhythm.Sign(sign[0])})
		default:
			lower := pitch(sign)
			slots = append(slots, line.Slot{Sign: rhythm.Begin, Lower: &lower})
		}
	}
	return slots
}

func (c charted) segments(t *testing.T, key theory.Key, in meter.Meter) (segments []line.Segment) {
	sections := 1
	for i, text := range strings.Split(c.chart, "|") {
		symbols := strings.Fields(text)
		for j, symbol := range symbols {
			section := 0
			if symbol[0] == '[' {
				sections++
				section = sections
			}
			if symbol == "." {
				continue
			}
			chord, err := theory.ParseChord(strings.TrimPrefix(symbol, "["))
			require.NoError(t, err)
			segments = append(segments, line.Segment{
				Start: i*in.Bar() + j*in.Bar()/len(symbols), End: i*in.Bar() + (j+1)*in.Bar()/len(symbols),
				Bar: i, Section: section, Chord: chord, Scale: chordscale.Over(key, chord),
			})
		}
	}
	return segments
}

// writtenOut writes a line as an exercise has a teacher's own: a slot a sign, the lower
// note where a third begins, - where it is held, and . where the line rests. Before a
// note * is an arrival, ~ a neighbour, = a repeat, and < leads back.
func writtenOut(in meter.Meter, grid int, steps []line.Step) string {
	var b strings.Builder
	end := steps[len(steps)-1].Tick + steps[len(steps)-1].Length
	signs := map[line.Role]string{line.Arrival: "*", line.Neighbour: "~", line.Repeat: "="}
	for tick := 0; tick < end; tick += grid {
		if tick > 0 && tick%in.Bar() == 0 {
			b.WriteString(" |")
		}
		i := slices.IndexFunc(steps, func(s line.Step) bool { return s.Tick <= tick && tick < s.Tick+s.Length })
		switch {
		case i < 0:
			b.WriteString(" .")
		case steps[i].Tick < tick:
			b.WriteString(" -")
		default:
			b.WriteByte(' ')
			if steps[i].LeadsBack {
				b.WriteByte('<')
			}
			b.WriteString(signs[steps[i].Role] + steps[i].Notes.Lower.String())
		}
	}
	return b.String()
}

// Lines that a person has looked at, over charts of many kinds: first such as teachers
// write, then small ones that a search has drawn, in which something rare decides.
func TestLinesThatAreFound(t *testing.T) {
	var out strings.Builder
	for _, c := range []charted{
		{"a song in four", "C major", "4/4", 2, 50, "C | Am | F | G | C | Am | Dm G | C", "C4", "G5", ""},
		{"the same, going round", "C major", "4/4", 2, 50, "C | Am | F | G | C | Am | Dm G | C", "C4", "G5", "closed"},
		{"bare", "C major", "4/4", 2, 0, "C | Am | F | G | C | Am | Dm G | C", "C4", "G5", ""},
		{"full", "C major", "4/4", 2, 100, "C | Am | F | G | C | Am | Dm G | C", "C4", "G5", ""},
		{"full, in sixteenths", "G major", "4/4", 4, 100, "G | Em | C | D7 | G", "C4", "G5", ""},
		{"triplets", "A minor", "4/4", 3, 75, "Am | Dm | E7 | Am", "C4", "G5", ""},
		{"in three", "D major", "3/4", 2, 50, "D | Bm | G | A7 | D | A7 D | G A7 | D", "C4", "G5", "closed"},
		{"in six", "G major", "6/8", 2, 60, "G | Em C | D | G", "C4", "G5", ""},
		{"in seven", "E minor", "7/8", 2, 60, "Em | C | D | B7 | Em", "C4", "G5", "closed"},
		{"in two", "F major", "2/2", 2, 40, "F | Dm | Gm C7 | F", "C4", "G5", ""},
		{"borrowed chords", "C major", "4/4", 2, 60, "C | Fm | Bb | Ab | Db7 | G7 | C", "C4", "G5", ""},
		{"fourths and fifths", "C major", "4/4", 2, 75, "Csus4 C | G5 | Dsus2 | G7sus4 G7 | C", "C4", "G5", ""},
		{"sevenths", "B♭ major", "4/4", 2, 50, "Bbmaj7 | Gm7 | Cm7 | F7 | Dm7b5 G7 | Cm7 F7 | Bb6", "C4", "G5", ""},
		{"two chords a bar, sections", "E major", "4/4", 2, 50, "[E B | C#m A | E B | A | [A E | F#m B | A E | B7", "C4", "G5", "closed"},
		{"three phrases", "G major", "4/4", 2, 50, "G | Em | C | D | G | Bm | C | D7 | Em | C | D7 | G", "C4", "G5", "closed"},
		{"a rest in the chart", "C major", "4/4", 2, 80, "C | . | F | . G | C", "C4", "G5", ""},
		{"pushed", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "push"},
		{"a pickup", "C major", "4/4", 2, 50, "G7 | C | Am | F | G7", "C4", "G5", "closed home=1"},
		{"a variant", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "variant=2"},
		{"another", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "variant=3"},
		{"a late one, bare", "A minor", "4/4", 1, 0, "G | F | G | Am", "C4", "C5", "variant=7"},
		{"some of it written", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "own1=C4,-,.,E4 own3=B3,x"},
		{"written over the bar line", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "own0=C4,-,E4,-,G4,-,.,A4 own1=-,-,B4,-,-,-,x,-"},
		{"a written rest at the end", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "closed own4=.,.,.,."},
		{"a phrase of rests", "C major", "4/4", 2, 50, "C | Am | F | G | [C | F | G | C", "C4", "G5", "own4=. own5=. own6=. own7=."},
		{"a rhythm written", "C major", "4/4", 2, 50, "C | Am | F | G | C", "C4", "G5", "rhythm0=x--xx-.. rhythm2=x.x."},
		{"a narrow compass", "C major", "4/4", 2, 75, "C | Am | F | G | C", "C4", "G4", ""},
		{"as narrow as can be", "C major", "4/4", 2, 75, "C | Am | C", "C4", "E4", ""},
		{"a wide compass", "C major", "4/4", 2, 75, "C | Am | F | G | C", "E2", "C6", ""},
		{"some thirds out of reach", "C major", "4/4", 2, 75, "C | Am | F | G | C", "C4", "G5", "reach"},
		{"some thirds hard", "C major", "4/4", 2, 75, "C | Am | F | G | C", "C4", "G5", "hard"},
		{"a part twice", "C major", "4/4", 2, 50, "C | Am | C | Am | F", "C4", "G5", "times=2 part=2"},
		{"a part three times", "C major", "4/4", 2, 50, "F | C | G | C | G | C | G", "C4", "G5", "closed times=3 part=2 first=1"},
		{"a part twice, going round", "C major", "4/4", 2, 50, "C | Am | G | C | Am | G", "C4", "G5", "closed times=2 part=3"},
		{"a part twice at the end", "C major", "4/4", 2, 50, "F | C | G | C | G", "C4", "G5", "times=2 part=2 first=1"},
		{"a part twice at the end, as at home", "C major", "4/4", 2, 50, "C | F | G | C | F | C | F", "C4", "G5", "closed times=2 part=2 first=3"},
		{"a part twice at the end, beginning as the chart does", "C major", "4/4", 2, 50, "C | C | C", "C4", "C5", "closed times=2 part=1 first=1"},
		{"a part with two endings", "C major", "4/4", 2, 50, "C | Am | G | C | Am | F | C", "C4", "G5", "times=2 part=2 endings=1,1"},
		{"a part with two endings at the end", "C major", "4/4", 2, 50, "F | C | Am | G | C | Am | C", "C4", "G5", "times=2 part=2 endings=1,1 first=1"},
		{"the same, going round", "C major", "4/4", 2, 50, "F | C | Am | G | C | Am | C", "C4", "G5", "closed times=2 part=2 endings=1,1 first=1"},
		{"long endings", "C major", "4/4", 2, 50, "C | F | G | Am | F | G | C | C | F | C | Am | Dm | G7 | C | F", "C4", "G5", "times=2 part=2 endings=5,5"},
		{"a part three times, with endings", "G major", "4/4", 2, 50, "G | C | D | G | C | D | G | C | Em | G", "C4", "G5", "times=3 part=2 endings=1,1,1"},
		{"endings of two bars at the end", "C major", "4/4", 2, 50, "C | Am | Dm | G | C | Am | F | C", "C4", "G5", "times=2 part=2 endings=2,2"},
		{"an ending the first time alone", "C major", "4/4", 2, 50, "C | Am | Dm | C | Am", "C4", "G5", "times=2 part=2 endings=1,0"},
		{"endings the first two times, going round", "C major", "4/4", 2, 75, "G | C | Am | F | C | Am | Dm | C | Am", "C4", "G5", "closed times=3 part=2 endings=1,1,0 first=1"},
		{"an ending the second time alone", "C major", "4/4", 1, 25, "F | F | Dm | F", "G3", "C5", "times=2 part=1 endings=0,1"},
		{"the same, bare and going round", "G major", "3/4", 1, 0, "G7 | G7 | Cmaj7 | G7", "E4", "C5", "closed times=2 part=1 endings=0,1"},
		{"an ending of two phrases the first time alone", "C major", "3/4", 1, 25, "Cmaj7 | G | G | E7 | Am | Cmaj7 | Am | Cmaj7", "G3", "C5", "times=2 part=1 endings=6,0"},
		{"ways into an ending that cost the same", "C major", "4/4", 1, 50, "Dm | G7 | Cmaj7 | Bb | G7 | Bb | Dm | Bb", "C4", "C5", "times=2 part=1 endings=5,1"},
		{"endings of two phrases", "C major", "4/4", 2, 75, "C | F | G | Am | Em | F | C | C7 | C | F | C | Am | Dm | G7 | F | C", "C4", "G5", "times=2 part=2 endings=6,6"},
		{"endings of two phrases, bare", "A minor", "4/4", 2, 0, "C | Am | G | E7 | C | Am | C | C | C | F | Em | Em | Em | G", "C4", "B4", "times=2 part=1 endings=6,6"},
		{"a rest behind a part", "C major", "4/4", 2, 75, "C | G | C | G | . | F", "C4", "G5", "times=2 part=2"},
		{"a chord alone", "C major", "4/4", 2, 50, "C", "C4", "G5", ""},
		{"a chord alone, going round", "C major", "4/4", 2, 100, "Am", "C4", "G5", "closed"},
		{"drawn", "G major", "4/4", 2, 0, "Cmaj7 | C5 | Cmaj7 | C5", "C4", "C5", "times=2 part=2"},
		{"drawn", "C major", "3/4", 2, 50, "Gsus2 | C5", "E3", "D4", "closed push variant=3 hard"},
		{"drawn", "A minor", "6/8", 2, 50, "Dm | [E7", "D4", "A4", ""},
		{"drawn", "E♭ major", "4/4", 2, 100, "Bb Ab | Bb", "E3", "G4", "hard"},
		{"drawn", "A minor", "3/4", 1, 75, "G | F", "C4", "D5", "push variant=3"},
		{"drawn", "G major", "7/8", 2, 50, "A7sus4 | C", "C4", "C5", "closed"},
		{"drawn", "A minor", "6/8", 2, 50, "A7sus4 | .", "C4", "D5", "push reach"},
		{"drawn", "C major", "4/4", 3, 50, "C5 | G", "G3", "G5", "reach"},
		{"drawn", "A minor", "4/4", 4, 75, "Csus4 | Csus4 | Dm", "C4", "C5", "closed times=2 part=1"},
		{"drawn", "E♭ major", "4/4", 3, 100, "Cm | Fm Ab", "C4", "G5", ""},
		{"drawn", "C major", "4/4", 2, 50, "Bb | Cadd9 Fm", "C4", "C6", "closed"},
		{"drawn", "A minor", "4/4", 1, 50, "Am | Am | Em", "C4", "C5", "closed hard times=2 part=1"},
		{"drawn", "G major", "4/4", 3, 25, "Bb | Fm", "E3", "B4", "closed reach"},
		{"drawn", "C major", "3/4", 3, 100, "Gsus2 | [Am", "C4", "B4", "hard own1=x,B3"},
		{"drawn", "G major", "4/4", 4, 50, "D | D | D7", "C4", "A4", "closed times=2 part=1"},
		{"drawn", "C major", "7/8", 2, 25, "Am E7 | C5", "D4", "D5", ""},
		{"drawn", "C major", "4/4", 2, 100, "Bdim | G | G", "G3", "E4", "push times=2 part=1 first=1"},
		{"drawn", "C major", "6/8", 2, 25, "C .  | A7sus4 Cadd9", "C4", "C6", "closed"},
		{"drawn", "C major", "3/4", 4, 100, "A7sus4 | A7sus4 | F", "C4", "B4", "push variant=3 times=2 part=1"},
		{"drawn", "D dorian", "6/8", 2, 75, "Bdim | Bdim | Bdim | Bdim", "C4", "E5", "closed reach times=2 part=2"},
		{"drawn", "C major", "4/4", 2, 25, "F | D7", "C4", "G5", "variant=3"},
		{"drawn", "A minor", "4/4", 4, 100, "Dm | Dm | Em", "D4", "D6", "closed reach times=2 part=1"},
		{"drawn", "E♭ major", "6/8", 2, 0, "A7sus4 | A7sus4 | Bb", "C4", "B4", "closed push variant=2 times=2 part=1"},
		{"drawn", "C major", "4/4", 2, 50, "Dm | Dm | Gsus2", "D4", "B4", "closed push times=2 part=1"},
		{"drawn", "C major", "4/4", 1, 0, "A7sus4 Bb | D7", "C4", "A4", "reach own0=.,A4"},
		{"drawn", "A minor", "3/4", 3, 100, "D7 | Dm Bb", "C4", "E5", ""},
		{"drawn", "C major", "7/8", 2, 50, "Gsus2 G | [G", "G3", "D4", "closed reach own1=G4,."},
		{"drawn", "C major", "4/4", 2, 100, "Dm | [Cmaj7 | Dm | G7", "G3", "B4", "hard times=2 part=1 endings=1,1"},
		{"drawn", "G major", "7/8", 2, 50, "Csus4 | .", "G3", "D4", "closed push"},
		{"drawn", "E♭ major", "7/8", 2, 50, "Gsus2 | Cm | Cm", "C4", "C5", "closed times=2 part=1 first=1"},
		{"drawn", "C major", "7/8", 2, 75, "Dm | Db7 | Db7", "E3", "E5", "closed"},
		{"drawn", "G major", "4/4", 4, 100, "Csus4 | Cadd9 | Csus4 | Csus4", "E3", "E5", "times=2 part=1 endings=1,1"},
		{"drawn", "D dorian", "4/4", 4, 100, "Bdim | G | G", "D4", "F5", "closed times=2 part=1 first=1"},
		{"drawn", "A minor", "3/4", 2, 50, "Dm | Dm | [Dm", "E3", "E5", "push hard times=2 part=1"},
		{"drawn", "A minor", "4/4", 4, 25, "G | [Em | G | [Em", "G3", "A4", "times=2 part=2"},
		{"drawn", "A minor", "6/8", 2, 25, "F | Bdim Am | Bdim Am", "C4", "C6", ""},
		{"drawn", "G major", "6/8", 2, 0, "C | C | Am | G | Bm Bm | C | Bm D | Bm", "G3", "E5", "closed"},
		{"drawn", "G major", "4/4", 2, 75, "Bm | D | Em Bm | D | G | C | C | C", "C4", "E5", "hard"},
		{"drawn", "A minor", "6/8", 2, 0, "Am | F", "G3", "G5", "hard"},
	} {
		m, segments := c.lineOf(t)
		fmt.Fprintf(&out, "%s: %s\n", c.name, strings.TrimSpace(fmt.Sprintf("%s, %s, %d %%, %s to %s, %s  %s", c.key, c.meter, c.density, c.low, c.high, c.chart, c.how)))
		steps, err := m.Line(segments)
		if err != nil {
			fmt.Fprintf(&out, " %v\n\n", err)
			continue
		}
		fmt.Fprintf(&out, "%s\n\n", writtenOut(m.Rhythm.Meter, m.Rhythm.Grid, steps))
	}
	goldentest.Equal(t, filepath.Join("testdata", "found.txt"), out.String())
}
