package kit

import (
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// A Description says for programs what an exercise is about. Ticks, of which a
// quarter note has TicksPerQuarter, are counted from the first tick of bar one,
// the count-in left out; names of notes and chords have # and b.
type Description struct {
	Title           string        `json:"title"`
	Subtitle        string        `json:"subtitle,omitempty"`
	By              string        `json:"by,omitempty"`
	Note            []string      `json:"note,omitempty"` // paragraphs
	Key             string        `json:"key"`
	Meter           string        `json:"meter"`
	Feel            string        `json:"feel"`
	Tempos          []int         `json:"tempos"`  // beats a minute
	CountIn         int           `json:"countIn"` // bars
	Passes          int           `json:"passes"`
	Climb           int           `json:"climb,omitempty"`  // beats a minute
	Turns           int           `json:"turns,omitempty"`  // bars of a turn; a pass where it is left out
	Groove          string        `json:"groove,omitempty"` // shaker or brush
	Click           string        `json:"click,omitempty"`  // count-in where it ends with that
	Density         int           `json:"density"`          // per cent
	Grid            string        `json:"grid"`
	Rhythm          []string      `json:"rhythm,omitempty"` // a bar each, in turn, as the exercise writes it
	Push            bool          `json:"push,omitempty"`
	Own             []OwnRecord   `json:"own,omitempty"`          // bars that the teacher wrote
	Variant         int           `json:"variant,omitempty"`      // left out for the best line
	Ladder          string        `json:"ladder,omitempty"`       // 2-3, position or free
	LadderChords    string        `json:"ladderChords,omitempty"` // tonic or triads
	Strum           []string      `json:"strum,omitempty"`        // a bar each, in turn, as the exercise writes it
	Pick            []string      `json:"pick,omitempty"`         // the same for plucked strings
	Fill            string        `json:"fill,omitempty"`         // struck in the last bar of a phrase instead
	Tuning          []string      `json:"tuning"`                 // the lowest string first, without capo
	Capo            int           `json:"capo"`                   // 0 for none
	Position        string        `json:"position"`
	TicksPerQuarter int           `json:"ticksPerQuarter"`
	Bars            []BarRecord   `json:"bars"`
	Line            []ThirdRecord `json:"line"`
	Bass            []BassRecord  `json:"bass,omitempty"`
}

// An OwnRecord is a bar of the line that the teacher wrote.
type OwnRecord struct {
	Bar   int    `json:"bar"`   // counted on the chart, from 1, a pickup 0
	Slots string `json:"slots"` // as the exercise writes them
}

// A BarRecord is a bar of the chart, repeats written out.
type BarRecord struct {
	Number  int           `json:"number"` // on the sheet, from 1, a repeat not counted again
	Played  int           `json:"played"` // counted as one plays, from 1, repeats too
	Tick    int           `json:"tick"`
	Section string        `json:"section,omitempty"` // that begins here
	Chords  []ChordRecord `json:"chords"`
}

// A ChordRecord is a stretch of a bar in which a chord sounds; without a chord, its
// symbol is N.C.
type ChordRecord struct {
	Tick    int    `json:"tick"`
	Length  int    `json:"length"` // ticks
	Symbol  string `json:"symbol"`
	Shape   string `json:"shape,omitempty"` // that the hand plays behind a capo, by its name without one
	Numeral string `json:"numeral,omitempty"`
	Grip    string `json:"grip,omitempty"` // frets, the lowest string first
}

// A ThirdRecord is a third of the line.
type ThirdRecord struct {
	Tick      int        `json:"tick"`
	Length    int        `json:"length"` // ticks
	Role      string     `json:"role"`   // arrival, passing, neighbour or repeat
	LeadsBack bool       `json:"leadsBack,omitempty"`
	Lower     NoteRecord `json:"lower"`
	Upper     NoteRecord `json:"upper"`
}

// A NoteRecord is a note of a third and the place where it is played.
type NoteRecord struct {
	Pitch  string `json:"pitch"`
	String int    `json:"string"` // 1 is the highest
	Fret   int    `json:"fret"`   // from the capo
}

// Describe describes a score for programs.
func Describe(s *score.Score) Description {
	d := Description{
		Title:           s.Title,
		Subtitle:        s.Handout.Subtitle,
		By:              s.Handout.By,
		Note:            s.Handout.Note,
		Key:             s.Key.ASCII(),
		Meter:           s.Meter.String(),
		Feel:            s.Feel.String(),
		Tempos:          s.Tempos,
		CountIn:         s.CountIn,
		Passes:          s.Passes,
		Climb:           s.Climb,
		Turns:           s.Turns,
		Density:         s.Density,
		Grid:            s.Grid.String(),
		Capo:            s.Neck.Capo,
		Position:        s.Position.String(),
		TicksPerQuarter: meter.Quarter,
		Bars:            make([]BarRecord, len(s.Bars)),
		Line:            make([]ThirdRecord, len(s.Line)),
	}
	if len(s.Groove) > 0 {
		d.Groove = s.Groove[0].Sound.Instrument()
	}
	if s.ClickEnds {
		d.Click = "count-in"
	}
	for _, open := range s.Neck.Tuning {
		d.Tuning = append(d.Tuning, open.ASCII())
	}
	d.describeRequest(s)
	for i, bar := range s.Bars {
		d.Bars[i] = BarRecord{Number: bar.Number, Played: i + 1, Tick: bar.Tick, Section: bar.Section}
		for _, span := range bar.Chords {
			d.Bars[i].Chords = append(d.Bars[i].Chords, describeChord(span))
		}
	}
	for _, n := range s.Bass {
		d.Bass = append(d.Bass, BassRecord{Tick: n.Tick, Length: n.Length, NoteRecord: NoteAt(n.Pitch, n.Place)})
	}
	for i, t := range s.Line {
		d.Line[i] = ThirdRecord{
			Tick: t.Tick, Length: t.Length, Role: t.Role.String(), LeadsBack: t.LeadsBack,
			Lower: NoteAt(t.Notes.Lower, t.Places.Lower),
			Upper: NoteAt(t.Notes.Upper, t.Places.Upper),
		}
	}
	return d
}

// describeRequest describes what the exercise asks of the line and the right hand.
func (d *Description) describeRequest(s *score.Score) {
	asked := s.Asked
	d.Rhythm, d.Push = asked.Rhythm, asked.Push
	if asked.Variant > 1 {
		d.Variant = asked.Variant
	}
	for _, bar := range asked.Own {
		d.Own = append(d.Own, OwnRecord{Bar: bar.Number, Slots: bar.Slots})
	}
	if d.Ladder = asked.Ladder.Along; d.Ladder != "" {
		d.LadderChords = "tonic"
		if asked.Ladder.Triads {
			d.LadderChords = "triads"
		}
	}
	for _, pattern := range s.Patterns {
		if pattern.Picked() {
			d.Pick = append(d.Pick, pattern.Spaced())
		} else {
			d.Strum = append(d.Strum, pattern.Spaced())
		}
	}
	if s.Fill != nil {
		d.Fill = s.Fill.Spaced()
	}
}

func describeChord(span score.ChordSpan) ChordRecord {
	c := ChordRecord{
		Tick: span.Tick, Length: span.Length,
		Symbol: theory.ASCII(span.Symbol()), Numeral: theory.ASCII(span.Numeral), Grip: span.Grip.String(),
	}
	if span.Shaped {
		c.Shape = span.Shape.ASCII()
	}
	return c
}

// A BassRecord is a note of the bass.
type BassRecord struct {
	Tick   int `json:"tick"`
	Length int `json:"length"` // ticks
	NoteRecord
}

// NoteAt describes a pitch at a place.
func NoteAt(p theory.Pitch, at neck.Place) NoteRecord {
	return NoteRecord{Pitch: p.ASCII(), String: at.String, Fret: at.Fret}
}
