package musicxml

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// A MusicXML document, as far as the tests read it.
type (
	xmlDocument struct {
		Names []string  `xml:"part-list>score-part>part-name"`
		Parts []xmlPart `xml:"part"`
	}
	xmlPart struct {
		Measures []xmlMeasure `xml:"measure"`
	}
	xmlMeasure struct {
		Number   string       `xml:"number,attr"`
		Barlines []xmlBarline `xml:"barline"`
		Content  []xmlContent `xml:",any"`
	}
	xmlBarline struct {
		Style  string `xml:"bar-style"`
		Ending *struct {
			Number string `xml:"number,attr"`
			Type   string `xml:"type,attr"`
		} `xml:"ending"`
		Repeat *struct {
			Direction string `xml:"direction,attr"`
			Times     int    `xml:"times,attr"`
		} `xml:"repeat"`
	}
	// xmlContent is a note, a backup or anything else that stands in a measure.
	xmlContent struct {
		XMLName  xml.Name
		Duration int       `xml:"duration"`
		Chord    *struct{} `xml:"chord"`
		Rest     *struct {
			Measure string `xml:"measure,attr"`
		} `xml:"rest"`
		Pitch *struct {
			Step   string `xml:"step"`
			Alter  int    `xml:"alter"`
			Octave int    `xml:"octave"`
		} `xml:"pitch"`
		Unpitched *struct {
			Step   string `xml:"display-step"`
			Octave int    `xml:"display-octave"`
		} `xml:"unpitched"`
		Ties []struct {
			Type string `xml:"type,attr"`
		} `xml:"tie"`
		Head   string     `xml:"notehead"`
		Down   *struct{}  `xml:"notations>technical>down-bow"`
		Up     *struct{}  `xml:"notations>technical>up-bow"`
		Accent *struct{}  `xml:"notations>articulations>accent"`
		Type   string     `xml:"type"`
		Dots   []struct{} `xml:"dot"`
		Ratio  *struct {
			Actual int `xml:"actual-notes"`
			Normal int `xml:"normal-notes"`
		} `xml:"time-modification"`
		Stem   string    `xml:"stem"`
		Offset int       `xml:"offset"`
		Words  string    `xml:"direction-type>words"`
		Mode   string    `xml:"key>mode"` // of attributes, and so are the next
		Capo   *int      `xml:"staff-details>capo"`
		Clefs  []xmlClef `xml:"clef"`
		Frame  *xmlFrame `xml:"frame"` // of a harmony
		Staff  int       `xml:"staff"`
		String int       `xml:"notations>technical>string"`
		Fret   int       `xml:"notations>technical>fret"`
	}
	xmlClef struct {
		Sign   string `xml:"sign"`
		Line   int    `xml:"line"`
		Octave int    `xml:"clef-octave-change"`
	}
	xmlFrame struct {
		Strings int `xml:"frame-strings"`
		Frets   int `xml:"frame-frets"`
		First   int `xml:"first-fret"`
		Notes   []struct {
			String int `xml:"string"`
			Fret   int `xml:"fret"`
		} `xml:"frame-note"`
	}
	xmlHarmony struct {
		Kind struct {
			Name string `xml:",chardata"`
			Text string `xml:"text,attr"`
		} `xml:"kind"`
		Degrees []struct {
			Value int    `xml:"degree-value"`
			Alter int    `xml:"degree-alter"`
			Type  string `xml:"degree-type"`
		} `xml:"degree"`
	}
)

// An xmlSounding is a note as a reader of the document would play it.
type xmlSounding struct {
	Tick, Length int
	Pitch        theory.Pitch
	Place        neck.Place
}

func read(t require.TestingT, s *score.Score, chords Chords) xmlDocument {
	var buf bytes.Buffer
	require.NoError(t, Write(&buf, paper.Notate(s), chords))
	var doc xmlDocument
	require.NoError(t, xml.Unmarshal(buf.Bytes(), &doc))
	return doc
}

func (d xmlDocument) part(t require.TestingT, name string) xmlPart {
	i := slices.Index(d.Names, name)
	require.GreaterOrEqual(t, i, 0)
	return d.Parts[i]
}

func (m xmlMeasure) notes() []xmlContent {
	return slices.DeleteFunc(slices.Clone(m.Content), func(c xmlContent) bool { return c.XMLName.Local != "note" })
}

func (m xmlMeasure) beginsEnding() bool {
	return slices.ContainsFunc(m.Barlines, func(b xmlBarline) bool { return b.Ending != nil && b.Ending.Type == "start" })
}

func (c xmlContent) actual() int {
	if c.Ratio == nil {
		return 1
	}
	return c.Ratio.Actual
}

func (c xmlContent) normal() int {
	if c.Ratio == nil {
		return 1
	}
	return c.Ratio.Normal
}

// written returns the ticks of the note's type and dots.
func (c xmlContent) written() int {
	ticks := map[string]int{"whole": 1920, "half": 960, "quarter": 480, "eighth": 240, "16th": 120, "32nd": 60}[c.Type]
	dot := ticks
	for range c.Dots {
		dot /= 2
		ticks += dot
	}
	return ticks
}

// played returns a staff's notes, or those of all of the part's where it is 0,
// in the order in which they sound.
func (p xmlPart) played(t require.TestingT, staff int) []xmlSounding {
	var out []xmlSounding
	tied := map[xmlSounding]int{} // by pitch and place, one more than the index of a note that is tied on
	start := 0
	for _, i := range p.order(t) {
		at, onset, end := start, start, start
		for _, c := range p.Measures[i].Content {
			switch c.XMLName.Local {
			case "backup":
				at -= c.Duration
			case "note":
				if c.Chord == nil {
					onset = at
					at += c.Duration
				}
				end = max(end, at)
				if c.Rest != nil || staff != 0 && c.Staff != staff {
					continue
				}
				n := xmlSounding{Tick: onset, Length: c.Duration, Pitch: c.pitch(t), Place: neck.Place{String: c.String, Fret: c.Fret}}
				name := xmlSounding{Pitch: n.Pitch, Place: n.Place}
				if c.tie("stop") {
					require.Contains(t, tied, name)
					out[tied[name]-1].Length += n.Length
				} else {
					out = append(out, n)
					tied[name] = len(out)
				}
				if !c.tie("start") {
					delete(tied, name)
				}
			}
		}
		start = end
	}
	require.Empty(t, tied, "ties that lead nowhere")
	sortSoundings(out)
	return out
}

func (c xmlContent) tie(kind string) bool {
	return slices.ContainsFunc(c.Ties, func(tie struct {
		Type string `xml:"type,attr"`
	}) bool {
		return tie.Type == kind
	})
}

// pitch returns the note's pitch, the zero value for a slash.
func (c xmlContent) pitch(t require.TestingT) theory.Pitch {
	if c.Unpitched != nil {
		require.Equal(t, "B4", fmt.Sprint(c.Unpitched.Step, c.Unpitched.Octave), "the middle line")
		return theory.Pitch{}
	}
	tone, err := theory.ParseTone(c.Pitch.Step)
	require.NoError(t, err)
	tone.Alter = c.Pitch.Alter
	return theory.Pitch{Tone: tone, Octave: c.Pitch.Octave}
}

// order returns the measures in the order in which they are played: MusicXML
// 4.0, repeat and ending.
func (p xmlPart) order(t require.TestingT) []int {
	var out []int
	opened, pass, skip := 0, 1, false
	for i := 0; i < len(p.Measures); i++ {
		for _, b := range p.Measures[i].Barlines {
			if b.Repeat != nil && b.Repeat.Direction == "forward" && opened != i {
				opened, pass = i, 1
			}
			if b.Ending != nil && b.Ending.Type == "start" {
				skip = !slices.Contains(strings.Split(b.Ending.Number, ","), strconv.Itoa(pass))
			}
		}
		if !skip {
			out = append(out, i)
		}
		require.Less(t, len(out), 10_000)
		back := false
		for _, b := range p.Measures[i].Barlines {
			if b.Ending != nil && b.Ending.Type != "start" {
				times := strings.Split(b.Ending.Number, ",")
				another := i+1 < len(p.Measures) && p.Measures[i+1].beginsEnding()
				back = b.Repeat != nil && !skip && (another || times[len(times)-1] != strconv.Itoa(pass))
				skip = false
			} else if b.Repeat != nil && b.Repeat.Direction == "backward" {
				back = pass < max(2, b.Repeat.Times)
			}
		}
		if back {
			i, pass = opened-1, pass+1
		}
	}
	return out
}

func sortSoundings(s []xmlSounding) {
	slices.SortFunc(s, func(a, b xmlSounding) int {
		return cmp.Or(cmp.Compare(a.Tick, b.Tick), cmp.Compare(a.Pitch.MIDI(), b.Pitch.MIDI()), cmp.Compare(a.Place.String, b.Place.String))
	})
}
