package system

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/score"
)

// Thicknesses and distances of a system, in staff spaces. Staff lines are an
// eighth of a space, stems and thin bar lines a little more or less, thick bar
// lines and beams half a space (Ross; Gould).
const (
	staffLine    = 0.13
	stringLine   = 0.10
	thinBar      = 0.16
	thickBar     = 0.5
	lineGap      = 0.45 // from the edge of a thick bar line to the middle of a thin one
	stringSpace  = 1.5  // between two lines of the tab
	staffToTab   = 3.4  // least distance from the staff to the tab
	numberSize   = 1.5  // of the font of a bar's number
	tabClearance = 1.6  // between what hangs below the staff and the tab
)

// A system is one row of music: staff and tab, with all that belongs to them.
// Heights are counted from the staff's top line until the system is placed.
type system struct {
	notation   *paper.Notation
	staves     Staves
	shortNames bool    // see Music
	finger     float64 // size of fingers' numbers
	bars       []bar
	first      int       // index of its first measure
	firstThird int       // index of the third that is number 1
	width      float64   // from the left end of the staff to the right
	left       []float64 // x of each bar's left bar line
	xs         [][]float64

	marks  []drawing.Mark // of the notation
	thirds []*third       // in order
	above  []drawing.Box  // what stands above the chord symbols
	tabTop float64

	bassTop float64 // of the bass's staff, which is smaller; 0 where there is none
}

// A third is what the system draws of one event: it becomes a group.
type third struct {
	group drawing.Group
	event *paper.Event
	x     float64
}

// Staves says which staves a system has.
type Staves int

// The staves.
const (
	Both     Staves = iota // and below them the bass's, where one plays
	Tab                    // tablature alone, with the rhythm below it
	Notation               // notation alone, and the bass's
	Chords                 // none: empty bars for chord symbols
	FillIn                 // both, with nothing where the line rests, to write into
)

// stavesNames names those that people choose from.
var stavesNames = [...]string{Both: "both", Tab: "tab", Notation: "notation"}

// UnmarshalText sets v to the staves named by text: "both", "tab" or "notation".
func (v *Staves) UnmarshalText(text []byte) error {
	i := slices.Index(stavesNames[:], string(text))
	if i < 0 {
		return fmt.Errorf("%q is not a choice of staves; it must be both, tab or notation", text)
	}
	*v = Staves(i)
	return nil
}

// prefixWidth returns how much room stands before the notes of a system: the time
// signature stands in the one that begins with the first measure.
func (v Staves) prefixWidth(s *score.Score, first int) float64 {
	switch {
	case v == Tab:
		return tabPrefixWidth(s, first == 0)
	case v == Chords && first == 0:
		return chordsPrefix + staff.TimeWidth(s.Meter)
	case v == Chords:
		return 0
	}
	return staff.PrefixWidth(s, first == 0)
}

// newSystem draws a row of bars.
func newSystem(m *Music, r Row) *system { return newSystemFrom(m, r, 0) }

// newSystemFrom draws a row of bars, whose thirds are numbered from that with an index
// in the line.
func newSystemFrom(m *Music, r Row, third int) *system {
	bars := m.of(r)
	s := &system{notation: m.notation, staves: m.staves, shortNames: m.shortNames, finger: m.finger, bars: bars, first: r.First, firstThird: third}
	x := s.prefix()
	for i := range bars {
		b := &bars[i]
		s.left = append(s.left, x)
		at := x + b.lead
		xs := make([]float64, len(b.Events))
		for j, g := range b.gaps {
			xs[j] = at
			at += g.at(r.Stretch)
		}
		s.xs = append(s.xs, xs)
		x = at
	}
	s.width = x
	s.drawPrefix()
	for i := range bars {
		s.drawBar(i)
	}
	switch s.staves {
	case Tab:
		s.drawTab()
		s.drawRhythm()
	case Notation:
		s.drawTies()
		s.drawStaff()
	case Chords:
		s.drawBeats()
	default:
		s.drawTies()
		s.tabTop = max(staff.BottomLine+staffToTab, s.contentBounds().Bottom+tabClearance)
		s.drawTab()
		s.drawStaff()
	}
	s.drawArrivals()
	s.drawBass()
	s.drawBarLines()
	s.drawAbove()
	return s
}

// prefix returns the room before the notes.
func (s *system) prefix() float64 { return s.staves.prefixWidth(s.notation.Score, s.first) }

func (s *system) add(m ...drawing.Mark) { s.marks = append(s.marks, m...) }

// contentBounds returns the rectangle that holds all that is drawn so far.
func (s *system) contentBounds() drawing.Box { return drawing.BoundsOf(s.all()) }

// all returns the system's marks, each third as a group.
func (s *system) all() []drawing.Mark {
	marks := s.marks
	for _, t := range s.thirds {
		marks = append(marks, t.group)
	}
	return marks
}

// end returns the x of the bar's right bar line.
func (s *system) end(i int) float64 {
	if i+1 < len(s.left) {
		return s.left[i+1]
	}
	return s.width
}

// drawStaff draws the five lines.
func (s *system) drawStaff() {
	for i := range 5 {
		s.add(drawing.Stroke(0, float64(i), s.width, float64(i), staffLine))
	}
}

// newThird begins the group of an event, with the attributes by which a page
// finds it: its bar on the page, and the ticks and passes at which it is played,
// each counted from 1, 0 and 1. Only the first of tied events has the id.
func (s *system) newThird(b *bar, e *paper.Event, x float64) *third {
	of := s.notation.Score
	number := e.Thirds[0] - s.firstThird + 1
	var ticks, passes []string
	for _, t := range e.Thirds {
		ticks = append(ticks, strconv.Itoa(of.Line[t].Tick))
	}
	for pass := 1; pass <= of.Passes; pass++ {
		if !e.LeadsBack || pass < of.Passes {
			passes = append(passes, strconv.Itoa(pass))
		}
	}
	t := &third{event: e, x: x, group: drawing.Group{Attributes: []drawing.Attribute{
		{Name: "third", Value: strconv.Itoa(number)},
		{Name: "bar", Value: strconv.Itoa(b.Number)},
		{Name: "tick", Value: strings.Join(ticks, " ")},
		{Name: "pass", Value: strings.Join(passes, " ")},
		{Name: "role", Value: e.Third.Role.String()},
	}}}
	if !e.TiedFrom {
		t.group.ID = fmt.Sprintf("third-%d", number)
	}
	s.thirds = append(s.thirds, t)
	return t
}

func (t *third) add(m ...drawing.Mark) { t.group.Marks = append(t.group.Marks, m...) }

// drawPrefix draws clef and signatures, and the bar's number where a system goes
// on from another.
func (s *system) drawPrefix() {
	switch {
	case s.staves == Tab:
		s.drawTabTime()
	case s.staves != Chords:
		s.add(staff.Prefix(paper.ClefOf(s.notation.Score.Neck), s.notation.Score, s.first == 0, 1)...)
	case s.first == 0:
		s.add(drawing.Moved(staff.Time(s.notation.Score.Meter), chordsPrefix/2, 0)...)
	}
	if number := s.number(); number != "" {
		s.add(drawing.Text(0, -1.9, numberSize, drawing.Italic, drawing.FromLeft, number))
	}
}

// number returns the number of the first bar where the system goes on from another, or
// else "". Where chords stand alone, so does the name of a section.
func (s *system) number() string {
	if s.first == 0 || s.staves == Chords && s.bars[0].Section != "" {
		return ""
	}
	return strconv.Itoa(s.bars[0].Number)
}

// drawBar draws a bar's heads, stems, beams, rests and tuplets.
func (s *system) drawBar(i int) {
	b, xs := &s.bars[i], s.xs[i]
	if s.staves == Tab {
		for j := range b.Events {
			if e := &b.Events[j]; !e.Rest() {
				s.newThird(b, e, xs[j])
			}
		}
		return
	}
	b.SetBeams(xs)
	s.add(b.Beams(xs)...)
	for j := range b.Events {
		e := &b.Events[j]
		if e.Rest() {
			if s.staves != Chords && s.staves != FillIn {
				s.add(b.Rest(j, xs[j], s.left[i], s.end(i))...)
			}
			continue
		}
		s.add(b.Ledgers(j, xs[j])...)
		s.newThird(b, e, xs[j]).add(b.Note(j, xs[j])...)
	}
	s.add(b.TupletMarks(xs)...)
}

// drawTies draws the ties between this system's events, and the halves of those
// that come from the row before or go on in the next.
func (s *system) drawTies() {
	k := 0 // of s.thirds
	for i := range s.bars {
		b := &s.bars[i]
		for j := range b.Events {
			e := &b.Events[j]
			if e.Rest() {
				continue
			}
			x := s.xs[i][j]
			if k == 0 && e.TiedFrom {
				s.add(b.TieFromStart(j, s.prefix(), x)...)
			}
			k++
			switch {
			case !e.TiedTo:
			case k < len(s.thirds):
				s.add(b.TieFrom(j, x, s.following(i, j))...)
			default:
				s.add(b.TieToEnd(j, x, s.width-0.2)...)
			}
		}
	}
}

// following returns the x of the event after one, behind the last the end of the system.
func (s *system) following(i, j int) float64 {
	switch {
	case j+1 < len(s.xs[i]):
		return s.xs[i][j+1]
	case i+1 < len(s.xs):
		return s.xs[i+1][0]
	}
	return s.width
}
