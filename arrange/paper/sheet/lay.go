package sheet

import (
	"fmt"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
	"thirdwise/arrange/paper/system"
	"thirdwise/arrange/score"
)

// Distances of a page, in staff spaces but for the margin.
const (
	paperMargin  = 15.3 // millimetres
	footSize     = 1.35
	footLine     = 1.7 // from one line of the footer to the next
	systemSpace  = 3.0 // least distance between what two systems reach to
	loosestSpace = 6.0 // the most that is added to it to fill a page
	openSpace    = 2.0 // and on the last page, which is not filled
)

// Options say how a sheet is laid out. In the zero value but for its paper, both
// staves are set, in the usual size.
type Options struct {
	Paper  drawing.Paper
	Staves system.Staves
	Large  bool // for children and weak eyes: everything in the size of a beginner's book
	Fit    bool // on one page where that can still be read
	Blank  bool // nothing of the line on a sheet to fill in, not even its arrivals
}

// Lay sets a score on pages. One that leaves much of a single page empty has a
// larger staff. The errors are a score without bars and a bar that is wider than
// the paper.
func Lay(n *paper.Notation, o Options) (*drawing.Sheet, error) { return lay(n, o, exercise) }

// LayChords sets a score's chords alone, to play the backing by: its chart as
// written, with sections, repeats, endings and strum.
func LayChords(n *paper.Notation, o Options) (*drawing.Sheet, error) {
	n, o = chordsAlone(n, o)
	return lay(n, o, chordChart)
}

func chordsAlone(n *paper.Notation, o Options) (*paper.Notation, Options) {
	s := *n.Score
	s.Line, s.Bass = nil, nil
	o.Staves = system.Chords
	return paper.Notate(&s), o
}

// LayFillIn sets a score's chords and, unless it is to be blank, arrivals, with empty
// staves for the student to write the line.
func LayFillIn(n *paper.Notation, o Options) (*drawing.Sheet, error) {
	n, o = toFillIn(n, o)
	return lay(n, o, fillIn)
}

func toFillIn(n *paper.Notation, o Options) (*paper.Notation, Options) {
	s := *n.Score
	s.Line, s.Bass = nil, nil
	if !o.Blank {
		s.Line = arrivals(n.Score)
	}
	o.Blank = len(s.Line) == 0
	o.Staves = system.FillIn
	return paper.Notate(&s), o
}

// arrivals returns the arrivals of a score's line alone. One that begins on a beat
// lasts whole beats, so that no flag or bracket asks for what the student may write
// otherwise.
func arrivals(s *score.Score) []score.Third {
	var line []score.Third
	for _, t := range s.Line {
		if t.Role == score.Arrival {
			line = append(line, t)
		}
	}
	beat := s.Meter.Beat()
	for i := range line {
		t := &line[i]
		if t.Tick%beat != 0 {
			continue
		}
		t.Length = max(beat, t.Length/beat*beat)
		if i+1 < len(line) {
			t.Length = min(t.Length, line[i+1].Tick-t.Tick)
		}
	}
	return line
}

// A kind says what a sheet is for.
type kind int

const (
	exercise   kind = iota // all of it
	chordChart             // the chords alone
	fillIn                 // to be filled in
)

// heading is what stands below the title of a sheet that is not the exercise
// itself.
func (l *layout) heading() string {
	if l.kind == fillIn && l.options.Blank {
		return "Write the line"
	}
	return [...]string{exercise: "", chordChart: "Chord chart", fillIn: "Write the line between the arrivals"}[l.kind]
}

func lay(n *paper.Notation, o Options, k kind) (*drawing.Sheet, error) {
	s := n.Score
	if len(s.Bars) == 0 {
		return nil, noBars(s)
	}
	l, rows, d := fewestPages(n, o, k)
	if l == nil {
		return nil, tooWide(s, o)
	}
	if len(d.starts) == 1 && l.staff == usualStaff {
		l, d = l.enlarged(rows, d)
	}
	pages := l.pages(d)
	l.foot(pages)
	return &drawing.Sheet{Title: s.Title, About: about(n, k), Paper: o.Paper, Space: l.space, Pages: pages}, nil
}

// Check returns the error that Lay, LayChords or LayFillIn would return, with less work.
func Check(n *paper.Notation, o Options) error {
	if len(n.Score.Bars) == 0 {
		return noBars(n.Score)
	}
	chords, chordsOptions := chordsAlone(n, o)
	empty, emptyOptions := toFillIn(n, o)
	if !fits(n, o, exercise) || !fits(chords, chordsOptions, chordChart) || !fits(empty, emptyOptions, fillIn) {
		return tooWide(n.Score, o)
	}
	return nil
}

// fits reports whether each bar is narrower than the paper in one of the ways to lay the
// sheet out.
func fits(n *paper.Notation, o Options, k kind) bool {
	return slices.ContainsFunc(slices.Concat(o.usual(), o.fitting()), func(t try) bool {
		l := newLayout(n, o, k, t.staff)
		_, _, ok := l.music.Break(l.width, t.thrift)
		return ok
	})
}

func noBars(s *score.Score) error { return fmt.Errorf("%q has no bars to print", s.Title) }

func tooWide(s *score.Score, o Options) error {
	return fmt.Errorf("%q: a bar has more notes than fit across %s paper", s.Title, o.Paper.Name)
}

// A layout is a sheet in the making: a score, on a paper, in a size of staff.
type layout struct {
	options       Options
	kind          kind
	notation      *paper.Notation
	score         *score.Score
	music         *system.Music
	staff         float64 // height in millimetres
	space         float64 // a staff space in millimetres; what follows is in staff spaces
	margin        float64
	width, height float64  // between the margins; of the paper
	cautions      []string // at the foot, in lines of about the same length
	mapBeside     bool     // the map stands beside the grips, not below the music
}

func newLayout(n *paper.Notation, o Options, k kind, staff float64) *layout {
	space := staff / 4
	l := &layout{
		options: o, kind: k, notation: n, score: typeset(n.Score), music: system.Of(n, o.Staves, max(system.UsualFinger, smallest*point/space)),
		staff: staff, space: space, margin: paperMargin / space,
		width: (o.Paper.Width - 2*paperMargin) / space, height: o.Paper.Height / space,
	}
	l.cautions = flow.Lines(paper.Caution, l.width, l.footSize(), drawing.Regular)
	return l
}

// fits returns the measure of a text's lines in a font size.
func (l *layout) fits(size float64, f drawing.Font) func(line string) bool {
	return func(line string) bool { return f.Width(size, line) <= l.width }
}

// blocks returns what the sheet holds, from top to bottom, around its music.
func (l *layout) blocks(music []block) []block {
	return slices.Concat(boxed(l.head()), music, boxed(l.shapes()))
}
