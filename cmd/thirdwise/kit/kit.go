// Package kit makes the folder that an exercise is rendered to: it says which
// files a kit holds and what they are called, has each written by the room that
// knows its format, and describes them all in kit.json. Package place puts the
// folder in its place, whole or not at all.
//
// A score comes in; a folder comes out. What sounds and when was decided by
// package arrange.
package kit

import (
	"fmt"
	"io"
	"sync"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/captions"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/musicxml"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/paper/tab"
	"thirdwise/arrange/score"
	"thirdwise/smf"
	"thirdwise/synth"
	"thirdwise/synth/audiofile"
)

// A Kit is a folder to be made of a score.
type Kit struct {
	Name     string // of the folder, and what the names of its files begin with; see [Name]
	Exercise string `json:"-"` // path of the exercise's file; "" where it has none
	Score    *score.Score
	Mixes    []score.Mix      // heard at each of the score's tempos
	NoAudio  bool             // all but the tracks
	Format   audiofile.Format // of the audio; all its fields are set
	Loudness float64          // of the full mix at the last tempo, in LUFS
	Dry      bool             // without the room
	Sheet    sheet.Options    // of what is printed
	Chords   musicxml.Chords  // how strums stand in the file for notation editors
	// Clips keep the sounds of notes for other kits of the same run; nil for this one alone.
	Clips *synth.Clips `json:"-"`
	// Backings keep what accompanies the guide for other kits of the same run; nil keeps none.
	Backings *synth.Backings `json:"-"`
	Page     Page            `json:"-"` // nil for no practice page
}

// A Page makes the practice page of a kit.
type Page interface {
	// WriteKit writes the page. The gain is that of the kit's tracks, in dB; not a
	// number where it has none.
	WriteKit(w io.Writer, k Kit, gain float64) error
	// Sum returns a hash of all that pages are made of but the kit. The program that
	// makes kits is part of it.
	Sum() string
}

// played lists what a kit holds for each performance, beside its audio. An ending
// follows the kit's name and the tempo.
var played = []struct {
	kind   Kind
	ending string
	write  func(io.Writer, *paper.Notation, *score.Performance) error
}{
	{KindPerformance, ".mid", writePerformed},
	{KindChordCaptions, ".vtt", captions.WriteChords},
	{KindTabCaptions, "-tab.vtt", captions.WriteTab},
}

func writePerformed(w io.Writer, n *paper.Notation, p *score.Performance) error {
	return smf.WritePerformance(w, n.Score, p)
}

// once lists what a kit holds once, beside its description. An ending follows
// the kit's name.
var once = []struct {
	kind   Kind
	ending string
	write  func(Kit, io.Writer, *paper.Notation) error
}{
	{KindScore, ".mid", Kit.writeScore},
	{KindNotation, ".musicxml", Kit.writeNotation},
	{KindTab, "-tab.txt", Kit.writeTab},
}

func (k Kit) writeScore(w io.Writer, _ *paper.Notation) error { return smf.Write(w, k.Score) }

func (k Kit) writeNotation(w io.Writer, n *paper.Notation) error {
	return musicxml.Write(w, n, k.Chords)
}

func (k Kit) writeTab(w io.Writer, n *paper.Notation) error { return tab.Write(w, n) }

// A format is how a printed sheet is written. Its ending follows the kit's name.
type format struct {
	ending string
	write  func(io.Writer, *drawing.Sheet) error
}

// sheets lists what the kit holds printed; each is laid out once.
var sheets = []struct {
	kind    Kind
	lay     func(*paper.Notation, sheet.Options) (*drawing.Sheet, error)
	formats []format
}{
	{KindSheet, sheet.Lay, []format{{".pdf", drawing.WritePDF}, {".svg", drawing.WriteSVG}}},
	{KindChordChart, sheet.LayChords, []format{{"-chords.pdf", drawing.WritePDF}}},
	{KindFillIn, sheet.LayFillIn, []format{{"-fill-in.pdf", drawing.WritePDF}}},
}

// An output is a file to be written.
type output struct {
	File
	track *synth.Track            // of audio, which is made together; nil for the rest
	write func(w io.Writer) error // nil for audio
}

// outputs lists the kit's files but for its description.
func (k Kit) outputs(n *paper.Notation) []output {
	var list []output
	for _, tempo := range k.Score.Tempos {
		list = append(list, k.outputsAt(tempo, n)...)
	}
	if climb := k.Score.Climbing(); climb != nil {
		list = append(list, k.outputsOfClimb(climb, n)...)
	}
	for _, o := range once {
		file := File{Name: k.Name + o.ending, Kind: o.kind}
		write := func(w io.Writer) error { return o.write(k, w, n) }
		list = append(list, output{File: file, write: write})
	}
	for _, o := range sheets {
		laid := sync.OnceValues(func() (*drawing.Sheet, error) { return o.lay(n, k.Sheet) })
		for _, f := range o.formats {
			write := func(w io.Writer) error {
				s, err := laid()
				if err != nil {
					return err
				}
				return f.write(w, s)
			}
			list = append(list, output{File: File{Name: k.Name + f.ending, Kind: o.kind}, write: write})
		}
	}
	number(list)
	return list
}

// outputsAt lists the files at a tempo.
func (k Kit) outputsAt(tempo int, n *paper.Notation) []output {
	name := fmt.Sprintf("%s-%03d", k.Name, tempo)
	p := k.Score.Perform(tempo)
	var list []output
	for _, mix := range k.mixes() {
		file := File{Name: name + "-" + mix.String(), Tempo: tempo}
		switch mix {
		case score.Loop:
			list = append(list, k.audio(file, synth.Track{Mix: mix, Performance: k.Score.Loop(tempo), Loop: true}))
		case score.Turns:
			list = append(list, k.audio(file, synth.Track{Mix: mix, Performance: p.Turns(k.Score.Turns)}))
		default:
			list = append(list, k.audio(file, synth.Track{Mix: mix, Performance: p}))
		}
	}
	return append(list, perPerformance(File{Name: name, Tempo: tempo}, n, p)...)
}

// outputsOfClimb lists the files of the climb.
func (k Kit) outputsOfClimb(p *score.Performance, n *paper.Notation) []output {
	file := File{Name: k.Name + "-climb", Climb: true}
	list := perPerformance(file, n, p)
	if k.NoAudio {
		return list
	}
	return append([]output{k.audio(file, synth.Track{Mix: score.Full, Performance: p})}, list...)
}

// mixes returns those that are made at each tempo.
func (k Kit) mixes() []score.Mix {
	if k.NoAudio {
		return nil
	}
	return k.Mixes
}

// perPerformance lists the files beside the audio of a performance. The name of
// the file given lacks its ending.
func perPerformance(file File, n *paper.Notation, p *score.Performance) []output {
	var list []output
	for _, o := range played {
		f := file
		f.Name, f.Kind = file.Name+o.ending, o.kind
		f.Seconds = float64(p.Sample(p.Length, 1000)) / 1000
		write := func(w io.Writer) error { return o.write(w, n, p) }
		list = append(list, output{File: f, write: write})
	}
	return list
}
