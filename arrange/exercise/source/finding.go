package source

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Finding is one thing to say about an exercise: where, what was found there,
// and what would be right.
type Finding struct {
	File string `json:"file"` // the name under which the exercise was read
	Span
	Severity Severity `json:"severity"`
	Message  string   `json:"message"`          // what was found; lower case, no full stop
	Remedy   string   `json:"remedy,omitempty"` // what would be right; "" where the message says it
	Mends    []Mend   `json:"mends,omitempty"`  // what the remedy has to write, of which one is to be chosen; none where that takes a person
	Excerpt  string   `json:"-"`                // the line of the file
}

// Severity says what a finding asks of the teacher.
type Severity int

// The severities, the gravest first.
const (
	Mistake Severity = iota // nothing can be made of the exercise before it is mended
	Warning                 // something to act on
	Note                    // worth knowing
)

var severities = [...]string{Mistake: "mistake", Warning: "warning", Note: "note"}

// String returns the severity's name.
func (s Severity) String() string { return severities[s] }

// MarshalText returns the severity's name.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// place returns where the finding is: file, line and column, as far as they are known.
func (f Finding) place() string {
	if f.Line == 0 {
		return f.File
	}
	return fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Column)
}

// headline returns the finding without its remedy. A mistake needs no word that
// says what it is.
func (f Finding) headline() string {
	if f.Severity == Mistake {
		return f.place() + ": " + f.Message
	}
	return fmt.Sprintf("%s: %s: %s", f.place(), f.Severity, f.Message)
}

// Error returns the finding in one line: "file:line:column: message; remedy".
func (f Finding) Error() string {
	if f.Remedy == "" {
		return f.headline()
	}
	return f.headline() + "; " + f.Remedy
}

// Report returns the finding for people: its place and message, the line of the
// file with the text in question marked beneath, and the remedy. It ends with a
// line break.
func (f Finding) Report() string {
	const margin = "    "
	var b strings.Builder
	b.WriteString(f.headline() + "\n")
	if f.Length > 0 {
		excerpt, carets := mark(f.Excerpt, f.Column, f.Length)
		b.WriteString(margin + excerpt + "\n" + margin + carets + "\n")
	}
	if f.Remedy != "" {
		b.WriteString(margin + f.Remedy + "\n")
	}
	return b.String()
}

// Findings is what was found in one exercise, in the order of the file.
type Findings []Finding

// Of returns those of a severity.
func (list Findings) Of(s Severity) Findings {
	var some Findings
	for _, f := range list {
		if f.Severity == s {
			some = append(some, f)
		}
	}
	return some
}

// Error returns the first mistake in one line and says how many more there are.
func (list Findings) Error() string {
	mistakes := list.Of(Mistake)
	switch len(mistakes) {
	case 0:
		return "no mistakes"
	case 1:
		return mistakes[0].Error()
	case 2:
		return mistakes[0].Error() + " (and 1 more mistake)"
	}
	return fmt.Sprintf("%s (and %d more mistakes)", mistakes[0].Error(), len(mistakes)-1)
}

// Err returns the list as an error where a mistake is among it, and nil otherwise.
func (list Findings) Err() error {
	if len(list.Of(Mistake)) == 0 {
		return nil
	}
	return list
}

// Report returns all findings for people, as [Finding.Report] does for one.
func (list Findings) Report() string {
	var b strings.Builder
	for _, f := range list {
		b.WriteString(f.Report())
	}
	return b.String()
}

// Sort puts the findings in the order of the file.
func (list Findings) Sort() {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}
