package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/musicxml"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/paper/system"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/vary"
	"thirdwise/cmd/thirdwise/web"
	"thirdwise/synth/audiofile"
)

type renderCommand struct {
	Files     []string            `arg:"" name:"FILE" predictor:"exercise" help:"Exercises, or folders of them; - for standard input."`
	Output    string              `short:"o" predictor:"folder" default:"kits" placeholder:"DIR" help:"The folder that kits are written to (kits)."`
	Tempos    []int               `name:"tempo" placeholder:"BEATS" help:"Beats per minute, instead of the exercise's tempos."`
	Mixes     []score.Mix         `name:"mix" predictor:"mix" placeholder:"MIX" help:"Mixes, instead of full, backing and guide; none for no tracks."`
	Key       vary.Key            `predictor:"key" placeholder:"KEY" help:"Move to a tonic, to a key of the same mode, or to all twelve keys."`
	Position  vary.Position       `predictor:"position" placeholder:"POSITION" help:"open, a fret, free, or all that suit the key."`
	Densities []int               `name:"density" placeholder:"PERCENT" help:"A kit for each density, instead of the exercise's own."`
	Format    audiofile.Container `predictor:"format" default:"wav" placeholder:"FORMAT" help:"Format of the audio: wav (the default) or flac."`
	Rate      int                 `predictor:"rate" default:"${rate}" placeholder:"HZ" help:"Samples a second: ${rates}."`
	Depth     int                 `predictor:"depth" default:"${depth}" placeholder:"BITS" help:"Bits a sample: ${depths}."`
	Loudness  float64             `default:"-18" placeholder:"LUFS" help:"Loudness of the full mix at the last tempo (-18)."`
	Dry       bool                `help:"Leave out the sound of the room."`
	Again     bool                `help:"Make kits anew that are unchanged, too."`
	Shard     course.Shard        `placeholder:"N/OF" help:"Make a share of the kits: 3/16 is the third of sixteen."`
	JSON      bool                `name:"json" help:"Print an object a kit for programs."`
	Paper     drawing.Paper       `predictor:"paper" default:"a4" placeholder:"SIZE" help:"Size of the sheet: a4 (the default) or letter."`
	Print     string              `default:"normal" enum:"normal,large" placeholder:"SIZE" help:"Size of what is printed: normal (the default) or large."`
	Staves    system.Staves       `predictor:"staves" default:"both" placeholder:"STAVES" help:"On the sheet: both (the default), tab or notation."`
	Chords    musicxml.Chords     `predictor:"chords" default:"slashes" placeholder:"CHORDS" help:"In the MusicXML file: slashes (the default), or written, each note of the strums."`
	Fit       bool                `help:"Keep the sheet on one page where it can still be read."`
	FillIn    string              `default:"arrivals" enum:"arrivals,nothing" placeholder:"WHAT" help:"On the sheet to fill in: arrivals (the default) or nothing."`
}

// audioFormats says for the command line which formats audio can have.
func audioFormats() kong.Vars {
	choice := func(of []int) string { return fmt.Sprintf("%d (the default) or %d", of[0], of[1]) }
	return kong.Vars{
		"rate": strconv.Itoa(audiofile.Rates()[0]), "rates": choice(audiofile.Rates()),
		"depth": strconv.Itoa(audiofile.Depths()[0]), "depths": choice(audiofile.Depths()),
	}
}

// Help is the command's help.
func (renderCommand) Help() string {
	return `Writes the kit of each exercise, a folder. For porch-light.yaml it is
kits/porch-light (kits/porch-light-g-major with --key "G major"), and holds
  porch-light-060-full.wav     a play-along track, for each tempo and mix
  porch-light-060.mid          the same performance as MIDI, for each tempo
  porch-light-060.vtt          captions for it: the chords
  porch-light-060-tab.vtt      captions for it: the tab
  porch-light-climb.wav        from the lowest tempo up, where it says climb
  porch-light.mid              the notes as written, for notation editors
  porch-light.musicxml         the same as notation and tab
  porch-light-tab.txt          the tab as text
  porch-light.pdf              the sheet to print
  porch-light.svg              the same sheet as an image
  porch-light-chords.pdf       the chords alone, to play the backing by
  porch-light-fill-in.pdf      arrivals with empty staves, to write the line
  porch-light.html             the page to practise with, in any browser
  kit.json                     what all of this is, for programs

Of a folder, all exercises in it are rendered. All are checked before the first
kit is written; one with mistakes is left out, and named at the end. A kit that
is unchanged is not made again, unless --again asks for it. One that is made
again replaces the one before, with all its tracks, and what else lies in its
folder stays; a kit of another exercise, or a folder that is no kit, is left
alone. Over several kits there is a page, index.html.

The mixes: full (click, chords, guide, and bass and groove where the exercise
has them), backing (full without guide), guide (click, guide), each part alone
(click, chords, guide-upper, guide-lower, bass, groove), loop (full, the chart
once, to be repeated without a seam) and turns (the guide in every other pass,
or every so many bars where the exercise has the setting turns: listen, then
play); none makes no tracks, only MIDI, notation, tab and sheet. Whether bass
and groove (soft percussion) play, and whether the click ends with the count-in,
are settings of the exercise: bass, groove and click. --tempo and --mix take a
list with commas, or are given several times.

--key all makes a kit in each of the twelve keys of the exercise's mode, spelled
with the fewest sharps or flats (F# major rather than Gb, Eb minor rather than
D#); one that cannot be made, say because a bar of your own cannot be played
there, is named at the end. --position all makes one for each position in which
the key lies well (see thirdwise neck); those in which the line cannot be played
are left out, with a line about each. Both together make one for each position
in each key. The kits' names tell them apart:
porch-light-d-flat-major-position-5.

--density 0,25,50,100 makes a kit for each density, from the bare arrivals to
the full line: a series of homework. Their names tell them apart too:
porch-light-density-25.

Examples:
  thirdwise render my-song.yaml
  thirdwise render --density 0,25,50,100 --mix full,backing my-song.yaml
  thirdwise render --tempo 50,70 --mix backing,guide-lower -o handouts *.yaml
  thirdwise render --key "Bb major" --position 5 --format flac my-song.yaml
  thirdwise render --key all --position all --mix full -o course my-song.yaml
  thirdwise render --shard 3/16 --key all -o course exercises`
}

// Validate refuses a command line that cannot be followed.
func (c *renderCommand) Validate() error {
	return errors.Join(onceFromInput(c.Files), c.validateOutput(), c.validateTempos(), c.validateMixes(), c.validateDensities(),
		c.validateLoudness(), oneOf("--rate", c.Rate, audiofile.Rates()), oneOf("--depth", c.Depth, audiofile.Depths()))
}

// validateOutput refuses what is rather an option behind a forgotten folder.
func (c *renderCommand) validateOutput() error {
	if strings.HasPrefix(c.Output, "-") {
		return fmt.Errorf("-o %s: name a folder; one that begins with - is written ./%s", c.Output, c.Output)
	}
	return nil
}

func (c *renderCommand) validateTempos() error {
	if _, err := new(exercise.Exercise).WithTempos(c.Tempos); err != nil {
		return fmt.Errorf("--tempo: %w", err)
	}
	return nil
}

func (c *renderCommand) validateMixes() error {
	for i, mix := range c.Mixes {
		if slices.Contains(c.Mixes[:i], mix) {
			return fmt.Errorf("--mix %s is given twice", mix)
		}
		if mix == score.NoMix && len(c.Mixes) > 1 {
			return fmt.Errorf("--mix %s stands alone", mix)
		}
	}
	if len(c.Mixes) == 0 {
		c.Mixes = usualMixes()
	}
	return nil
}

// usualFolder is where kits are written for which no other folder is asked.
const usualFolder = "kits"

// usualMixes returns those of a kit for which no others are asked.
func usualMixes() []score.Mix { return []score.Mix{score.Full, score.Backing, score.Guide} }

func (c *renderCommand) validateDensities() error {
	for i, density := range c.Densities {
		if density < 0 || density > 100 {
			return fmt.Errorf("--density %d is outside 0 to 100", density)
		}
		if slices.Contains(c.Densities[:i], density) {
			return fmt.Errorf("--density %d is given twice", density)
		}
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

func oneOf(option string, value int, allowed []int) error {
	if slices.Contains(allowed, value) {
		return nil
	}
	return fmt.Errorf("%s %d: it must be %d or %d", option, value, allowed[0], allowed[1])
}

// warn tells of something that went wrong beside what was asked for.
func (con *console) warn(format string, args ...any) {
	fmt.Fprintf(con.stderr, "thirdwise: warning: "+format+"\n", args...)
}

// cause returns what kept a kit from being written. It leaves out the paths of
// the draft, which tell nobody anything.
func cause(err error) error {
	var path *os.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, context.Canceled):
		return errors.New("interrupted")
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// silent warns where a part is asked for of an exercise that has none.
func (c *renderCommand) silent(a *arrangement) (list source.Findings) {
	remedies := map[score.Mix]string{
		score.BassAlone:   "write bass: root-fifth or bass: walking, and it has one",
		score.GrooveAlone: "write groove: shaker or groove: brush, and it has one",
	}
	for _, mix := range c.Mixes {
		if mix != score.NoMix && mix.Silent(a.score) {
			list = append(list, source.Finding{
				File: a.name, Severity: source.Warning,
				Message: fmt.Sprintf("%q has no %s, so that --mix %s makes no track", a.score.Title, mix, mix),
				Remedy:  remedies[mix],
			})
		}
	}
	return list
}

// asked returns what is asked for of each exercise.
func (c *renderCommand) asked() vary.Options {
	return vary.Options{Tempos: c.Tempos, Key: c.Key, Position: c.Position, Densities: c.Densities}
}

// kit returns what is to be made of an arrangement. A part that it has not is left out.
func (c *renderCommand) kit(a *arrangement) kit.Kit {
	mixes := slices.DeleteFunc(slices.Clone(c.Mixes), func(m score.Mix) bool { return m != score.NoMix && m.Silent(a.score) })
	return kit.Kit{
		Name: nameOf(*a, a.Variant), Exercise: a.path, Score: a.score, Mixes: mixes, NoAudio: slices.Contains(c.Mixes, score.NoMix),
		Format:   audiofile.Format{Container: c.Format, Rate: c.Rate, Depth: c.Depth},
		Loudness: c.Loudness, Dry: c.Dry, Page: web.Practice,
		Sheet:  sheet.Options{Paper: c.Paper, Staves: c.Staves, Large: c.Print == "large", Fit: c.Fit, Blank: c.FillIn == "nothing"},
		Chords: c.Chords,
	}
}
