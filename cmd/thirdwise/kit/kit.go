// Package kit makes the folder that an exercise is rendered to: it says which
// files a kit holds and what they are called, has each written by the room that
// knows its format, describes them all in kit.json, and publishes the folder
// whole or not at all.
//
// A score comes in; a folder comes out. What sounds and when was decided by
// package arrange.
package kit

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"thirdwise/arrange"
	"thirdwise/smf"
	"thirdwise/synth"
)

// A Kit is a folder to be made of a score.
type Kit struct {
	Name   string // of the folder, and what the names of its files begin with; see [Name]
	Score  *arrange.Score
	Mixes  []arrange.Mix // heard at each of the score's tempos
	Format synth.Format  // of the audio; all its fields are set
}

// perTempo lists what a kit holds for each tempo, beside the audio of its
// mixes. An ending follows the kit's name and the tempo.
var perTempo = []struct {
	kind, ending string
	write        func(io.Writer, *arrange.Score, *arrange.Performance) error
}{
	{"performance", ".mid", smf.WritePerformance},
}

// once lists what a kit holds once, beside its description. An ending follows
// the kit's name.
var once = []struct {
	kind, ending string
	write        func(io.Writer, *arrange.Score) error
}{
	{"notation", ".mid", smf.Write},
}

// An output is a file to be written.
type output struct {
	File
	mix         arrange.Mix
	performance *arrange.Performance    // nil for what is made from the score alone
	write       func(w io.Writer) error // nil for audio, which is made together
}

// outputs lists the kit's files but for its description.
func (k Kit) outputs() []output {
	var list []output
	for _, tempo := range k.Score.Tempos {
		name := fmt.Sprintf("%s-%03d", k.Name, tempo)
		p := k.Score.Perform(tempo)
		for _, mix := range k.Mixes {
			file := File{Name: name + "-" + mix.String() + "." + k.Format.Container.String(), Kind: "audio", Tempo: tempo, Mix: mix.String()}
			list = append(list, output{File: file, mix: mix, performance: p})
		}
		for _, o := range perTempo {
			file := File{Name: name + o.ending, Kind: o.kind, Tempo: tempo}
			write := func(w io.Writer) error { return o.write(w, k.Score, p) }
			list = append(list, output{File: file, performance: p, write: write})
		}
	}
	for _, o := range once {
		file := File{Name: k.Name + o.ending, Kind: o.kind}
		write := func(w io.Writer) error { return o.write(w, k.Score) }
		list = append(list, output{File: file, write: write})
	}
	return list
}

// CheckFolder returns an error where a folder cannot take kits: where it is none,
// or where something stands in a kit's place that must not be replaced.
func CheckFolder(folder string, kits []Kit) error {
	if entry, err := os.Stat(folder); err == nil && !entry.IsDir() {
		return fmt.Errorf("the output folder %s is not a folder", folder)
	}
	for _, k := range kits {
		if err := checkTarget(filepath.Join(folder, k.Name)); err != nil {
			return err
		}
	}
	return nil
}

// Publish makes the kit in a folder, which is made where it is missing, and
// returns the kit's files. A kit of the same name is replaced as a whole, once
// the new one is complete. Where that fails, or the context ends, all is left as
// it was.
//
// While it works, progress is told how many of all files are complete; never of
// two at once.
func (k Kit) Publish(ctx context.Context, folder string, progress func(done, all int)) (files []File, err error) {
	d, err := newDraft(filepath.Join(folder, k.Name))
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, d.discard()) }()
	if files, err = k.write(ctx, d, progress); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return files, d.publish()
}

// write writes the kit's files into the draft.
func (k Kit) write(ctx context.Context, d *draft, progress func(done, all int)) ([]File, error) {
	outputs := k.outputs()
	done := 0
	count := func() {
		done++
		progress(done, len(outputs)+1)
	}
	if err := k.writeAudio(ctx, d, outputs, count); err != nil {
		return nil, err
	}
	m := Manifest{Software: Software, Description: Describe(k.Score)}
	for _, o := range outputs {
		if o.write != nil {
			if err := d.write(&o.File, o.write); err != nil {
				return nil, err
			}
			count()
		}
		m.Files = append(m.Files, o.File)
	}
	manifest := File{Name: ManifestName}
	if err := d.write(&manifest, m.encode); err != nil {
		return nil, err
	}
	count()
	return append(m.Files, manifest), nil
}
