package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"thirdwise/arrange"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/synth"
	"thirdwise/theory"
)

type renderCommand struct {
	Files    []string        `arg:"" name:"FILE" help:"Exercises; - for standard input."`
	Output   string          `short:"o" default:"kits" placeholder:"DIR" help:"The folder that kits are written to (kits)."`
	Tempos   []int           `name:"tempo" placeholder:"BEATS" help:"Beats a minute, instead of the exercise's tempos."`
	Mixes    []string        `name:"mix" placeholder:"MIX" help:"Mixes, instead of full, backing and guide."`
	Key      string          `placeholder:"KEY" help:"Transpose to a key, such as \"Bb major\", or to a tonic."`
	Format   synth.Container `default:"wav" placeholder:"FORMAT" help:"Format of the audio: wav (the default) or flac."`
	Rate     int             `default:"44100" placeholder:"HZ" help:"Samples a second: 44100 (the default) or 48000."`
	Depth    int             `default:"16" placeholder:"BITS" help:"Bits a sample: 16 (the default) or 24."`
	Loudness float64         `default:"-18" placeholder:"LUFS" help:"Loudness of the full mix at the last tempo (-18)."`
	Dry      bool            `help:"Leave out the sound of the room."`
	Paper    string          `default:"a4" placeholder:"SIZE" help:"Size of the printed sheet: a4 (the default) or letter."`

	mixes []arrange.Mix // that Mixes names
	paper sheet.Paper   // that Paper names
}

// Help is the command's help.
func (renderCommand) Help() string {
	return `Writes the kit of each exercise, a folder. For porch-light.yaml it is
kits/porch-light (in another key kits/porch-light-g-major), and holds
  porch-light-060-full.wav     a play-along track, for each tempo and mix
  porch-light-060.mid          the same performance as MIDI, for each tempo
  porch-light-060.vtt          captions for it: the chords
  porch-light-060-tab.vtt      captions for it: the tab
  porch-light-rising.wav       all tempos one after the other, if it is to climb
  porch-light.mid              the notes as written, for notation editors
  porch-light.musicxml         the same as notation and tab
  porch-light-tab.txt          the tab as text
  porch-light.pdf              the sheet to print
  porch-light.svg              the same sheet as an image
  kit.json                     what all of this is, for programs

All exercises are checked before the first kit is written, and a mistake in one
leaves all unwritten. A kit that is there already is replaced as a whole, other
files in its folder included; a folder that is no kit is left alone.

The mixes: full (click, chords, guide, and bass where the exercise has one),
backing (full without guide), guide (click, guide), each part alone (click,
chords, guide-upper, guide-lower, bass), loop (full, the chart once, to be
repeated without a seam) and echo (the guide in every other pass: listen, then
play). --tempo and --mix take a list with commas, or are given several times.

Examples:
  thirdwise render my-song.yaml
  thirdwise render --tempo 50,70 --mix backing,guide-lower -o handouts *.yaml
  thirdwise render --key "Bb major" --rate 48000 --depth 24 my-song.yaml`
}

// Validate refuses a command line that cannot be followed.
func (c *renderCommand) Validate() error {
	return errors.Join(onceFromInput(c.Files), c.validateOutput(), c.validateTempos(), c.validateMixes(), c.validateKey(),
		c.validateLoudness(), c.validatePaper(), oneOf("--rate", c.Rate, 44100, 48000), oneOf("--depth", c.Depth, 16, 24))
}

// validateOutput refuses what is rather an option behind a forgotten folder.
func (c *renderCommand) validateOutput() error {
	if strings.HasPrefix(c.Output, "-") {
		return fmt.Errorf("-o %s: name a folder; one that begins with - is written ./%s", c.Output, c.Output)
	}
	return nil
}

func (c *renderCommand) validateTempos() error {
	if _, err := new(arrange.Exercise).WithTempos(c.Tempos); err != nil {
		return fmt.Errorf("--tempo: %w", err)
	}
	return nil
}

func (c *renderCommand) validateMixes() error {
	c.mixes = []arrange.Mix{arrange.Full, arrange.Backing, arrange.Guide}
	if len(c.Mixes) > 0 {
		c.mixes = nil
	}
	for _, name := range c.Mixes {
		mix, err := arrange.ParseMix(name)
		if err != nil {
			return fmt.Errorf("--mix: %w", err)
		}
		if slices.Contains(c.mixes, mix) {
			return fmt.Errorf("--mix %s is given twice", mix)
		}
		c.mixes = append(c.mixes, mix)
	}
	return nil
}

// validateKey looks at what can be known of the key before the exercise's own
// is. A tonic alone keeps the exercise's mode.
func (c *renderCommand) validateKey() error {
	read := func(s string) error { _, err := theory.ParseKey(s); return err }
	switch len(strings.Fields(c.Key)) {
	case 0:
		return nil
	case 1:
		read = func(s string) error { _, err := theory.ParseTone(s); return err }
	}
	if err := read(c.Key); err != nil {
		return fmt.Errorf("--key: %w", err)
	}
	return nil
}

// validateLoudness refuses levels at which nothing would be heard, or at which
// there would be no room for a plucked string's attack.
func (c *renderCommand) validateLoudness() error {
	const quietest, loudest = -40, -9
	if c.Loudness >= quietest && c.Loudness <= loudest {
		return nil
	}
	return fmt.Errorf("--loudness %g is outside %d to %d LUFS", c.Loudness, quietest, loudest)
}

func (c *renderCommand) validatePaper() error {
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		if c.Paper == paper.Name {
			c.paper = paper
			return nil
		}
	}
	return fmt.Errorf("--paper %s: it can be %s or %s", c.Paper, sheet.A4.Name, sheet.Letter.Name)
}

func oneOf(option string, value int, allowed ...int) error {
	if slices.Contains(allowed, value) {
		return nil
	}
	return fmt.Errorf("%s %d: it can be %d or %d", option, value, allowed[0], allowed[1])
}

// Run writes the kits.
func (c *renderCommand) Run(d *desk) error {
	all, err := d.arrangeAll(c.Files, c.change)
	if err != nil {
		return err
	}
	kits := make([]kit.Kit, len(all))
	for i, a := range all {
		kits[i] = c.kit(a)
	}
	if err := distinct(kits, c.Files); err != nil {
		return err
	}
	if err := kit.CheckFolder(c.Output, kits); err != nil {
		return err
	}
	for _, k := range kits {
		p := newProgress(d.stdout, filepath.Join(c.Output, k.Name))
		files, err := k.Publish(d.ctx, c.Output, p.count)
		if errors.Is(err, context.Canceled) {
			err = errors.New("interrupted")
		}
		if err != nil {
			p.clear()
			return fmt.Errorf("the kit %s was not written: %w", k.Name, err)
		}
		p.list(files)
	}
	return nil
}

// change makes of an exercise what the options ask for.
func (c *renderCommand) change(e *arrange.Exercise) (*arrange.Exercise, error) {
	if len(c.Tempos) > 0 {
		var err error
		if e, err = e.WithTempos(c.Tempos); err != nil {
			return nil, fmt.Errorf("--tempo: %w", err)
		}
	}
	if slices.Contains(c.mixes, arrange.BassAlone) && e.Bass == arrange.NoBass {
		return nil, fmt.Errorf("--mix bass: %q has no bass part", e.Title)
	}
	if c.Key == "" {
		return e, nil
	}
	key, err := e.TargetKey(c.Key)
	if err != nil {
		return nil, fmt.Errorf("--key: %w", err)
	}
	return arrange.Transpose(e, key), nil
}

// kit returns what is to be made of an arrangement.
func (c *renderCommand) kit(a *arrangement) kit.Kit {
	name := kit.Name(a.path, a.score.Title)
	if c.Key != "" {
		name = kit.InKey(name, a.score.Key)
	}
	return kit.Kit{
		Name: name, Score: a.score, Mixes: c.mixes,
		Format:   synth.Format{Container: c.Format, Rate: c.Rate, Depth: c.Depth},
		Loudness: c.Loudness, Dry: c.Dry, Paper: c.paper,
	}
}

// distinct returns an error where two kits would have the same name.
func distinct(kits []kit.Kit, paths []string) error {
	first := map[string]string{}
	for i, k := range kits {
		if before, ok := first[k.Name]; ok {
			return fmt.Errorf("%s and %s would both be written to the kit %s; rename one, or render them into different folders; nothing was written",
				before, paths[i], k.Name)
		}
		first[k.Name] = paths[i]
	}
	return nil
}
