package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/vary"
)

// An arrangement is an exercise that was read and arranged without a mistake.
type arrangement struct {
	vary.Variant
	name     string // that findings have for its file
	path     string // of its file; "" for standard input
	score    *score.Score
	findings source.Findings // warnings and notes
	size     kit.Size        // of the usual kit, once it was measured
}

// parse reads the exercise in a file, or on standard input where the path is "-",
// and makes its variants. Where the exercise has mistakes it returns them and no
// variant; an error is one of the command line.
func (con *console) parse(path string, asked vary.Asked) (arrangement, [][]vary.Variant, source.Findings, error) {
	file := arrangement{name: path, path: path}
	if path == "-" {
		file.name, file.path = "standard input", ""
	}
	text, err := con.read(path)
	if err != nil {
		return file, nil, mistakes(file.name, err), nil
	}
	written, err := exercise.Parse(file.name, text)
	if err != nil {
		return file, nil, mistakes(file.name, err), nil
	}
	variants, err := asked(written)
	if err != nil {
		return file, nil, nil, &lineError{err}
	}
	return file, variants, nil, nil
}

// arrange reads an exercise as parse does, and arranges its variants. Where one
// cannot be arranged it returns the mistakes and no arrangement.
func (con *console) arrange(path string, asked vary.Asked) ([]*arrangement, source.Findings, error) {
	file, groups, mistaken, err := con.parse(path, asked)
	if err != nil || len(mistaken) > 0 {
		return nil, mistaken, err
	}
	var all []*arrangement
	for _, group := range groups {
		playable, failed := file.arrangedGroup(group)
		if len(playable) == 0 {
			mistaken = append(mistaken, failed...)
		}
		all = append(all, playable...)
	}
	if len(mistaken) > 0 {
		return nil, mistaken, nil
	}
	return all, nil, nil
}

// arrangedGroup returns an arrangement of each variant that has one, and what is
// wrong with the others: of which at least one must be playable.
func (a arrangement) arrangedGroup(variants []vary.Variant) (playable []*arrangement, failed source.Findings) {
	for _, v := range variants {
		arranged, findings, err := arrange.Arrange(v.Exercise)
		if err != nil {
			failed = append(failed, mistakesIn(v, a.name, err)...)
			continue
		}
		one := a
		one.Variant, one.score, one.findings = v, arranged, findings
		playable = append(playable, &one)
	}
	return playable, failed
}

// mistakesIn returns what kept a variant from being arranged. Of one that is not as
// written, it says in which key.
func mistakesIn(v vary.Variant, name string, err error) source.Findings {
	list := slices.Clone(mistakes(name, err))
	if v.Suffix != "" {
		for i := range list {
			list[i].Message = fmt.Sprintf("in %s, %s", v.Key, list[i].Message)
		}
	}
	return list
}

// read returns the bytes of a file or of standard input, and no more of them
// than show that they are too many for an exercise.
func (con *console) read(path string) ([]byte, error) {
	input := con.stdin
	if path != "-" {
		file, err := os.Open(path)
		if err != nil {
			return nil, withoutPath(err)
		}
		defer file.Close()
		input = file
	}
	text, err := io.ReadAll(io.LimitReader(input, exercise.MaxBytes+1))
	return text, withoutPath(err)
}

// withoutPath returns what is behind an error that names the path, which a
// finding names too.
func withoutPath(err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		return fmt.Errorf("the file cannot be read: %w", at.Err)
	}
	return err
}

// mistakes returns what kept an exercise from being read or arranged.
func mistakes(name string, err error) source.Findings {
	var list source.Findings
	if errors.As(err, &list) {
		return list
	}
	return source.Findings{{File: name, Message: err.Error()}}
}

// arrangeAsWritten arranges the exercise in a file as it is written. It prints what
// is to be acted on: mistakes, after which it returns an error, and warnings. Notes
// are for those who check.
func (con *console) arrangeAsWritten(path string) (*arrangement, error) {
	arranged, err := con.arrangeOne(path, vary.AsWritten)
	if err != nil {
		return nil, err
	}
	return arranged[0], nil
}

// arrangeOne arranges the variants of one exercise, and prints what is to be acted on
// in the first, or the mistakes.
func (con *console) arrangeOne(path string, asked vary.Asked) ([]*arrangement, error) {
	arranged, found, err := con.arrange(path, asked)
	if err != nil {
		return nil, err
	}
	if len(arranged) > 0 {
		found = arranged[0].findings.Of(source.Warning)
	}
	fmt.Fprint(con.stderr, found.Report())
	if n := len(found.Of(source.Mistake)); n > 0 {
		return nil, errors.New(course.Counted(n, "mistake", "mistakes"))
	}
	return arranged, nil
}

// leftOut makes of the mistake in a variant that is left out a warning in one line.
func leftOut(f source.Finding) source.Finding {
	return source.Finding{File: f.File, Severity: source.Warning, Message: "left out: " + f.Message}
}

// onceFromInput returns an error where standard input is named more than once:
// it can be read only once.
func onceFromInput(paths []string) error {
	n := 0
	for _, path := range paths {
		if path == "-" {
			n++
		}
	}
	if n > 1 {
		return errors.New("standard input (-) is named more than once")
	}
	return nil
}
