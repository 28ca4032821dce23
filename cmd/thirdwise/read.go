package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
)

// An arrangement is an exercise that was read and arranged without a mistake.
type arrangement struct {
	variant
	name     string // that findings have for its file
	path     string // of its file; "" for standard input
	score    *score.Score
	warnings []finding
}

// A finding is a mistake or a warning.
type finding struct {
	File     string `json:"file"`
	Line     int    `json:"line,omitempty"`   // from 1; none where no line is to blame
	Column   int    `json:"column,omitempty"` // from 1, in characters
	Severity string `json:"severity"`         // a mistake or a warning
	Message  string `json:"message"`
	Remedy   string `json:"remedy,omitempty"`

	report string // for people; ends with a line break
}

// The severities of findings.
const (
	mistake = "mistake"
	warning = "warning"
)

// A variant is an exercise as the command line asks for it.
type variant struct {
	*exercise.Exercise
	suffix string // of its kit's name; "" for the exercise as it is written
}

// A vary makes of an exercise what the command line asks for: groups of one
// variant or more, of each of which at least one must be playable. Where that
// cannot be done, the command line is wrong.
type vary func(*exercise.Exercise) ([][]variant, error)

// asWritten asks for nothing else.
func asWritten(e *exercise.Exercise) ([][]variant, error) { return [][]variant{{{Exercise: e}}}, nil }

// arrange reads the exercise in a file, or on standard input where the path is
// "-", and arranges its variants. Where the exercise has mistakes it returns
// them and no arrangement; an error is one of the command line.
func (con *console) arrange(path string, vary vary) ([]*arrangement, []finding, error) {
	file := arrangement{name: path, path: path}
	if path == "-" {
		file.name, file.path = "standard input", ""
	}
	text, err := con.read(path)
	if err != nil {
		return nil, mistakes(file.name, err), nil
	}
	exercise, err := exercise.Parse(file.name, text)
	if err != nil {
		return nil, mistakes(file.name, err), nil
	}
	variants, err := vary(exercise)
	if err != nil {
		return nil, nil, &lineError{err}
	}
	return file.arranged(variants)
}

// arranged returns an arrangement of each variant of every group. Variants of
// which there is none are left out, unless that leaves nothing of their group.
func (a arrangement) arranged(groups [][]variant) ([]*arrangement, []finding, error) {
	var (
		all      []*arrangement
		mistakes []finding
		leftOut  []finding
	)
	for _, group := range groups {
		playable, failed := a.arrangedGroup(group)
		all = append(all, playable...)
		if len(playable) == 0 {
			mistakes = append(mistakes, failed...)
			continue
		}
		for _, f := range failed {
			leftOut = append(leftOut, f.leftOut())
		}
	}
	if len(mistakes) > 0 {
		return nil, mistakes, nil
	}
	all[0].warnings = append(all[0].warnings, leftOut...)
	return all, nil, nil
}

// arrangedGroup returns an arrangement of each variant that has one, and what is
// wrong with the others.
func (a arrangement) arrangedGroup(variants []variant) (playable []*arrangement, failed []finding) {
	for _, v := range variants {
		score, warnings, err := arrange.Arrange(v.Exercise)
		if err != nil {
			failed = append(failed, v.mistakes(a.name, err)...)
			continue
		}
		one := a
		one.variant, one.score, one.warnings = v, score, findings(warning, warnings)
		playable = append(playable, &one)
	}
	return playable, failed
}

// mistakes returns what kept a variant from being arranged. Of one that is not as
// written, it says in which key.
func (v variant) mistakes(name string, err error) []finding {
	var list exercise.ErrorList
	if v.suffix == "" || !errors.As(err, &list) {
		return mistakes(name, err)
	}
	told := make(exercise.ErrorList, len(list))
	for i, m := range list {
		inKey := *m
		inKey.Message = fmt.Sprintf("in %s, %s", v.Key, m.Message)
		told[i] = &inKey
	}
	return findings(mistake, told)
}

// read returns the bytes of a file or of standard input, and no more of them
// than show that they are too many for an exercise.
func (con *console) read(path string) ([]byte, error) {
	source := con.stdin
	if path != "-" {
		file, err := os.Open(path)
		if err != nil {
			return nil, withoutPath(err)
		}
		defer file.Close()
		source = file
	}
	text, err := io.ReadAll(io.LimitReader(source, exercise.MaxSource+1))
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
func mistakes(name string, err error) []finding {
	var list exercise.ErrorList
	if errors.As(err, &list) {
		return findings(mistake, list)
	}
	report := fmt.Sprintf("%s: %v\n", name, err)
	return []finding{{File: name, Severity: mistake, Message: err.Error(), report: report}}
}

func findings(severity string, list []*exercise.Mistake) []finding {
	found := make([]finding, len(list))
	for i, m := range list {
		shown := *m
		if severity == warning {
			shown.Message = "warning: " + m.Message
		}
		found[i] = finding{
			File: m.File, Line: m.Pos.Line, Column: m.Pos.Column,
			Severity: severity, Message: m.Message, Remedy: m.Remedy, report: shown.Report(),
		}
	}
	return found
}

// arrangeAll arranges the variants of several exercises. It prints warnings, of
// an exercise in several variants those of the first, and where there are
// mistakes, all of them; then it returns an error.
func (con *console) arrangeAll(paths []string, vary vary) ([]*arrangement, error) {
	var (
		all   []*arrangement
		found []finding
	)
	for _, path := range paths {
		variants, mistakes, err := con.arrange(path, vary)
		if err != nil {
			return nil, err
		}
		all = append(all, variants...)
		found = append(found, mistakes...)
		if len(variants) > 0 {
			found = append(found, variants[0].warnings...)
		}
	}
	fmt.Fprint(con.stderr, reports(found))
	if n := count(found, mistake); n > 0 {
		return nil, errors.New(counted(n, "mistake", "mistakes"))
	}
	return all, nil
}

// leftOut makes of the mistake in a variant that is left out a warning of it, in
// one line.
func (f finding) leftOut() finding {
	f.Severity = warning
	f.Message = "left out: " + f.Message
	f.report = fmt.Sprintf("%s: %s\n", f.File, f.Message)
	return f
}

func reports(findings []finding) string {
	var text strings.Builder
	for _, f := range findings {
		text.WriteString(f.report)
	}
	return text.String()
}

func count(findings []finding, severity string) int {
	n := 0
	for _, f := range findings {
		if f.Severity == severity {
			n++
		}
	}
	return n
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
