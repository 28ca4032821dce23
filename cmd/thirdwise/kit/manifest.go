package kit

import (
	"encoding/json"
	"io"

	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// Software is the program's name and version, as kit.json and the tags of audio
// files give it.
const Software = "thirdwise 0.1.0"

// ManifestName is the file that describes a kit for programs.
const ManifestName = "kit.json"

// A Manifest is what kit.json holds. Nothing in it depends on when and where
// the kit was made.
type Manifest struct {
	Software string `json:"software"`
	Exercise string `json:"exercise,omitempty"` // name of the file that the kit was made of
	Source   string `json:"source"`             // a hash of all that the kit is made of
	Description
	Files []File `json:"files"`
}

// A File is one file of a kit.
type File struct {
	Name    string  `json:"name"`
	Kind    Kind    `json:"kind"`
	Tempo   int     `json:"tempo,omitempty"`   // beats a minute
	Climb   bool    `json:"climb,omitempty"`   // goes through all tempos instead
	Mix     string  `json:"mix,omitempty"`     // of audio
	Seconds float64 `json:"seconds,omitempty"` // from the count-in to the end of what rings on; in MIDI, of the last bar
	Bytes   int64   `json:"bytes"`
	SHA256  string  `json:"sha256"` // lower-case hexadecimal
	*Sound
}

// A Kind says what a file is.
type Kind string

// The kinds of files.
const (
	KindAudio         Kind = "audio"          // WAV or FLAC
	KindPerformance   Kind = "performance"    // MIDI, as it is played at a tempo
	KindChordCaptions Kind = "chord-captions" // WebVTT, a cue a chord
	KindTabCaptions   Kind = "tab-captions"   // WebVTT, a cue a bar
	KindScore         Kind = "score"          // MIDI, as it is written
	KindNotation      Kind = "notation"       // MusicXML
	KindTab           Kind = "tab"            // text
	KindSheet         Kind = "sheet"          // PDF or SVG
	KindChordChart    Kind = "chord-chart"    // PDF, the chords alone
	KindFillIn        Kind = "fill-in-sheet"  // PDF, arrivals with empty staves
	KindPage          Kind = "page"           // HTML, to practise with
)

// A Sound is what an audio file holds. A file of silence has no levels.
type Sound struct {
	Rate     int      `json:"rate"`               // Hz
	Depth    int      `json:"depth"`              // bits a sample
	Loudness *float64 `json:"loudness,omitempty"` // LUFS, integrated
	TruePeak *float64 `json:"truePeak,omitempty"` // dBTP
}

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
	Climb           int           `json:"climb,omitempty"` // beats a minute
	Turns           int           `json:"turns,omitempty"` // bars of a turn; a pass where it is left out
	Density         int           `json:"density"`         // per cent
	Grid            string        `json:"grid"`
	Tuning          []string      `json:"tuning"` // the lowest string first, without capo
	Capo            int           `json:"capo"`   // 0 for none
	Position        string        `json:"position"`
	TicksPerQuarter int           `json:"ticksPerQuarter"`
	Bars            []BarRecord   `json:"bars"`
	Line            []ThirdRecord `json:"line"`
	Bass            []BassRecord  `json:"bass,omitempty"`
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

// WriteJSON writes a value as JSON that people can read too.
func WriteJSON(w io.Writer, value any) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(value)
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
	for _, open := range s.Neck.Tuning {
		d.Tuning = append(d.Tuning, open.ASCII())
	}
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

func describeChord(span score.ChordSpan) ChordRecord {
	return ChordRecord{
		Tick: span.Tick, Length: span.Length,
		Symbol: theory.ASCII(span.Symbol()), Numeral: theory.ASCII(span.Numeral), Grip: span.Grip.String(),
	}
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
