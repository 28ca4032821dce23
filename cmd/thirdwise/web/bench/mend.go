package bench

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
)

// A Mend is what can be written in the line of a finding, so that it is a finding no
// more.
type Mend struct {
	Column int    `json:"column"` // of the first character that is replaced, from 1
	Length int    `json:"length"` // characters that are replaced
	Text   string `json:"text"`   // "" takes them out
}

// mostTried is for how many findings of a text mends are tried: one waits for them.
const mostTried = 12

// addMends adds to findings of a text what would mend them. What a finding proposes is
// tried: of what still is no exercise there, nothing is offered.
func addMends(file, text string, findings []Finding) {
	tried, lines := 0, strings.Split(text, "\n")
	for i := range findings {
		f := &findings[i]
		proposed := proposals(f.Message + "; " + f.Remedy)
		if f.Line == 0 || f.Line > len(lines) || len(proposed) == 0 || tried == mostTried {
			continue
		}
		tried++
		for _, to := range proposed {
			if m, ok := mendOf(lines[f.Line-1], f.Span, to); ok && !slices.Contains(f.Mends, m) && mends(file, lines, f.Finding, m) {
				f.Mends = append(f.Mends, m)
			}
		}
	}
}

// Where findings say what would be right: they name one text, or some of which to choose.
// What they give as an example is none of these.
var (
	meant = regexp.MustCompile(`did you mean ([^?]+)\?`)
	named = []*regexp.Regexp{
		regexp.MustCompile(` as (\[[^\]]+\])$`),
		regexp.MustCompile(`; write (\S+) without quotation marks$`),
		regexp.MustCompile(`; write (N\.C\.) where no chord sounds$`),
		regexp.MustCompile(`; write it the other way round: (.+)$`),
		regexp.MustCompile(` between two chords: (.+)$`),
		regexp.MustCompile(`: ([a-z-]+: .+)$`), // a line
	}
	told   = regexp.MustCompile(`[;:] (?:write|type) (.+)$`)
	choice = regexp.MustCompile(`^(?:\S+|[A-G][#b]* [a-z]+(?: minor)?|[a-z-]+: .+)$`) // a word, a key, a line
	left   = regexp.MustCompile(`; leave it out: `)
)

// proposals returns the texts that a finding's words propose to write.
func proposals(words string) []string {
	if found := meant.FindStringSubmatch(words); found != nil {
		return choices(found[1])
	}
	for _, pattern := range named {
		if found := pattern.FindStringSubmatch(words); found != nil {
			return []string{found[1]}
		}
	}
	if found := told.FindStringSubmatch(words); found != nil {
		texts := choices(found[1])
		if !slices.ContainsFunc(texts, func(text string) bool { return !choice.MatchString(text) }) {
			return texts
		}
	}
	if left.MatchString(words) {
		return []string{""}
	}
	return nil
}

// between stands between texts that are listed, such as C/E or C.
var between = regexp.MustCompile(`, | or `)

func choices(listed string) []string {
	texts := between.Split(listed, -1)
	for i, text := range texts {
		texts[i] = strings.Trim(text, `"“”`)
	}
	return texts
}

// setting is the beginning of a line that has a setting, with its name.
var setting = regexp.MustCompile(`^\s*([a-z-]+):\s`)

// mendOf returns what writes a text in the place of a finding; a text with the name of a
// setting in it is written in the place of the whole line that has the setting.
func mendOf(line string, at source.Span, text string) (Mend, bool) {
	if in := setting.FindStringSubmatch(line); in != nil && strings.HasPrefix(text, in[1]+": ") {
		indent := len(line) - len(strings.TrimLeft(line, " \t"))
		return Mend{indent + 1, len([]rune(strings.TrimRight(line, "\r"))) - indent, text}, true
	}
	within := at.Column-1+at.Length <= len([]rune(line)) // what is missing at a line's end is marked behind it
	return Mend{at.Column, at.Length, text}, at.Length > 0 && within
}

// Written returns a line with the mend written into it.
func (m Mend) Written(line string) string {
	lines := []string{line}
	change{source.Span{Pos: source.Pos{Line: 1, Column: m.Column}, Length: m.Length}, m.Text}.write(lines)
	return lines[0]
}

// mends reports whether a mend takes a finding away, and leaves no mistake where it is
// written.
func mends(file string, lines []string, f source.Finding, m Mend) bool {
	lines = slices.Clone(lines)
	lines[f.Line-1] = m.Written(lines[f.Line-1])
	return !slices.ContainsFunc(said(file, strings.Join(lines, "\n")), func(other source.Finding) bool {
		if other.Line != f.Line {
			return other.Line == 0 && other.Severity == source.Mistake
		}
		there := other.Column < m.Column+max(1, len([]rune(m.Text))) && other.Column+other.Length > m.Column
		return other.Message == f.Message || there && other.Severity == source.Mistake
	})
}

// said returns what is found in the text of an exercise.
func said(file, text string) source.Findings {
	written, err := exercise.Parse(file, []byte(text))
	if err == nil {
		var findings source.Findings
		if _, findings, err = arrange.Arrange(written); err == nil {
			return findings
		}
	}
	var findings source.Findings
	if !errors.As(err, &findings) {
		return source.Findings{{Message: err.Error()}}
	}
	return findings
}
