package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"thirdwise/arrange"
)

// An arrangement is an exercise that was read and arranged without a mistake.
type arrangement struct {
	name     string // that findings have for its file
	path     string // of its file; "" for standard input
	exercise *arrange.Exercise
	score    *arrange.Score
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

// A change is what the command line asks of an exercise before it is arranged.
// Where it cannot be done, the command line is wrong.
type change func(*arrange.Exercise) (*arrange.Exercise, error)

// arrange reads the exercise in a file, or on standard input where the path is
// "-", changes it and arranges it. Where the exercise has mistakes it returns
// them and no arrangement; an error is one of the change.
func (d *desk) arrange(path string, change change) (*arrangement, []finding, error) {
	a := &arrangement{name: path, path: path}
	if path == "-" {
		a.name, a.path = "standard input", ""
	}
	text, err := d.read(path)
	if err != nil {
		return nil, mistakes(a.name, err), nil
	}
	exercise, err := arrange.ParseExercise(a.name, text)
	if err != nil {
		return nil, mistakes(a.name, err), nil
	}
	if a.exercise, err = change(exercise); err != nil {
		return nil, nil, &lineError{err}
	}
	score, warnings, err := arrange.Arrange(a.exercise)
	if err != nil {
		return nil, mistakes(a.name, err), nil
	}
	a.score, a.warnings = score, findings(warning, warnings)
	return a, nil, nil
}

// asWritten changes nothing.
func asWritten(e *arrange.Exercise) (*arrange.Exercise, error) { return e, nil }

// read returns the bytes of a file or of standard input, and no more of them
// than show that they are too many for an exercise.
func (d *desk) read(path string) ([]byte, error) {
	source := d.stdin
	if path != "-" {
		file, err := os.Open(path)
		if err != nil {
			return nil, withoutPath(err)
		}
		defer file.Close()
		source = file
	}
	text, err := io.ReadAll(io.LimitReader(source, arrange.MaxSource+1))
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
	var list arrange.ErrorList
	if errors.As(err, &list) {
		return findings(mistake, list)
	}
	report := fmt.Sprintf("%s: %v\n", name, err)
	return []finding{{File: name, Severity: mistake, Message: err.Error(), report: report}}
}

func findings(severity string, list []*arrange.Mistake) []finding {
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

// arrangeAll arranges several exercises. It prints warnings, and where there
// are mistakes, all of them; then it returns an error.
func (d *desk) arrangeAll(paths []string, change change) ([]*arrangement, error) {
	var (
		all   []*arrangement
		found []finding
	)
	for _, path := range paths {
		a, mistakes, err := d.arrange(path, change)
		if err != nil {
			return nil, err
		}
		found = append(found, mistakes...)
		if a != nil {
			all = append(all, a)
			found = append(found, a.warnings...)
		}
	}
	fmt.Fprint(d.stderr, reports(found))
	if len(all) < len(paths) {
		return nil, errors.New(counted(count(found, mistake), "mistake", "mistakes"))
	}
	return all, nil
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
