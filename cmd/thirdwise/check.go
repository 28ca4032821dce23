package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/machine"
	"thirdwise/cmd/thirdwise/vary"
	"thirdwise/cmd/thirdwise/web"
	"thirdwise/synth/audiofile"
)

type checkCommand struct {
	Files []string `arg:"" name:"FILE" predictor:"exercise" help:"Exercises, or folders of them; - for standard input."`
	JSON  bool     `name:"json" help:"Print a list of findings for programs."`
}

// Help is the command's help.
func (checkCommand) Help() string {
	return `Reads and arranges exercises and prints what it finds: mistakes, each with its
place and what would be right; warnings, which are worth acting on (a tempo that
few can keep, a stretch of the hand, a line that alternates between two thirds);
and notes, which are worth knowing (a chord outside the key and what the line
does about it, a chord without a third of its own). Of a folder, all exercises
in it are checked. The exit status is 0 where there are no mistakes.

Of an exercise without mistakes it says what its kit takes: room on the disk
(and how much is free), memory and time. A kit without room is a mistake.

With --json it prints a list of objects with file, line, column, length (in
characters), severity (mistake, warning or note), message, remedy and mends:
what can be written to mend it, each with line, column, length and text. Line
and column count from 1. What does not apply is left out.

Example:
  thirdwise check my-song.yaml another.yaml`
}

// Validate refuses a command line that cannot be followed.
func (c checkCommand) Validate() error { return onceFromInput(c.Files) }

// Run prints what was found.
func (c checkCommand) Run(con *console) error {
	paths, err := course.Files(c.Files)
	if err != nil {
		return err
	}
	found := source.Findings{}
	for _, path := range paths {
		all, mistaken, err := con.arrange(path, vary.AsWritten)
		if err != nil {
			return err
		}
		found = append(found, mistaken...)
		text := mistaken.Report()
		for _, a := range all {
			if a.findings = append(a.findings, a.perform()...); a.findings.Err() == nil {
				a.findings = append(a.findings, a.measure()...)
				a.findings = append(a.findings, a.unprintable()...)
			}
			found = append(found, a.findings...)
			text += a.findings.Report()
			if a.findings.Err() == nil {
				text += a.summary()
			}
		}
		if !c.JSON {
			fmt.Fprint(con.stdout, text)
		}
	}
	if c.JSON {
		if err := kit.WriteJSON(con.stdout, found); err != nil {
			return err
		}
	}
	if n := len(found.Of(source.Mistake)); n > 0 {
		return fmt.Errorf("%s in %s", course.Counted(n, "mistake", "mistakes"), course.Counted(len(paths), "file", "files"))
	}
	return nil
}

// perform performs the arrangement, so that what is passed here can be rendered, and
// returns what goes wrong.
func (a *arrangement) perform() source.Findings {
	once := *a.score
	once.Passes = min(once.Passes, 2) // one that leads on, and the last
	if err := once.Perform(once.Tempo()).Check(); err != nil {
		return source.Findings{{File: a.name, Message: fmt.Sprintf("the exercise cannot be performed: %v", err)}}
	}
	return nil
}

// kit returns what is made of an arrangement where nothing else is asked for.
func (a *arrangement) kit() kit.Kit {
	return kit.Kit{
		Name: kit.Name(a.path, a.score.Title), Exercise: a.path, Score: a.score, Mixes: usualMixes(),
		Format: audiofile.Format{}.WithDefaults(), Sheet: sheet.Options{Paper: drawing.A4}, Page: web.Practice,
	}
}

// unprintable returns a warning where the sheet's fonts lack characters of the
// exercise.
func (a *arrangement) unprintable() source.Findings {
	s := a.score
	words := []string{s.Title, s.Handout.Subtitle, s.Handout.By}
	words = append(words, s.Handout.Note...)
	for _, bar := range s.Bars {
		words = append(words, bar.Section)
	}
	lacking := drawing.Missing(strings.Join(words, ""))
	if lacking == "" {
		return nil
	}
	return source.Findings{{
		File: a.name, Severity: source.Warning, Message: fmt.Sprintf("the printed sheet has no letters for %s and shows a box for each", lacking),
		Remedy: "write the words in Latin, Greek or Cyrillic letters for the sheet; tab, MusicXML and MIDI have them as they are",
	}}
}

// measure finds out what the usual kit of an arrangement takes, and returns what
// keeps it from being made in the usual folder.
func (a *arrangement) measure() source.Findings {
	k := a.kit()
	size, err := k.Size()
	if err == nil {
		err = kit.Fit(usualFolder, []string{k.Name}, []kit.Size{size})
	}
	if err != nil {
		return tooLarge(a.name, err)
	}
	a.size = size
	return nil
}

// tooLarge returns what keeps a kit from being made as a mistake in a file.
func tooLarge(file string, err error) source.Findings {
	var large *kit.TooLargeError
	if errors.As(err, &large) {
		return source.Findings{{File: file, Message: large.Message, Remedy: large.Remedy}}
	}
	return source.Findings{{File: file, Message: err.Error()}}
}

// summary says in a line that an exercise can be rendered, what it is, and what its
// kit takes.
func (a *arrangement) summary() string {
	s := a.score
	verdict := "no mistakes"
	if n := len(a.findings.Of(source.Warning)); n > 0 {
		verdict += ", " + course.Counted(n, "warning", "warnings")
	}
	of := fmt.Sprintf("%s: %s: %s, %s, %s, %s, %s\n", a.name, verdict, s.Key, s.Meter,
		course.Counted(len(s.Bars), "bar", "bars"), course.Counted(len(s.Line), "third", "thirds"), s.Position.Name())
	seconds := int(a.size.Seconds)
	free := ""
	if bytes, known := machine.FreeDisk(usualFolder); known {
		free = fmt.Sprintf(" (%s free)", kit.Space(bytes))
	}
	return of + fmt.Sprintf("    its kit: %s, %d:%02d of sound; takes about %s of disk%s, %s of memory, %s\n",
		course.Counted(a.size.Files, "file", "files"), seconds/60, seconds%60, kit.Space(a.size.Bytes), free,
		kit.Space(a.size.Alone), course.Counted(int(math.Ceil(a.size.Time())), "second", "seconds"))
}
