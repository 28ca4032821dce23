package exercise

import (
	"strings"
	"unicode"
)

// A chartSign is one sign of a chart.
type chartSign struct {
	kind signKind
	Span
	text          string // a word, a section's name; what is wrong with a stray sign
	remedy        string // of a stray sign
	closes, opens bool   // the repeat dots of a bar line, on its left and right
}

type signKind int

const (
	word        signKind = iota // a chord, / or %, a repeat's count
	barLine                     // | or ||, with : on either side where repeats meet
	sectionName                 // [A]
	stray                       // belongs to nothing
)

// scanChart divides a chart into its signs. Blanks and line breaks separate
// words; bar lines and brackets need none around them.
func scanChart(t text) []chartSign {
	s := chartScanner{text: t}
	var signs []chartSign
	for {
		for unicode.IsSpace(s.peek(0)) {
			s.at++
		}
		if s.peek(0) == 0 {
			return signs
		}
		signs = append(signs, s.next())
	}
}

type chartScanner struct {
	text
	at int // index into runes
}

// peek returns the character some places ahead, 0 behind the end.
func (s *chartScanner) peek(ahead int) rune {
	if i := s.at + ahead; i < len(s.runes) {
		return s.runes[i]
	}
	return 0
}

func (s *chartScanner) next() chartSign {
	from := s.at
	switch {
	case s.startsBarLine():
		return s.barLine()
	case s.peek(0) == '[':
		return s.section()
	case s.peek(0) == ']':
		s.at++
		return chartSign{kind: stray, Span: s.part(from, s.at), text: "a bracket closes that was not opened", remedy: "write a section's name as [A]"}
	case s.peek(0) == ':':
		s.at++
		return chartSign{kind: stray, Span: s.part(from, s.at), text: "a colon stands apart from a bar line", remedy: "write a repeat as |: and :|"}
	}
	if s.peek(0) == '#' && unicode.IsSpace(s.peek(1)) {
		for s.peek(0) != 0 && s.peek(0) != '\n' {
			s.at++
		}
		return chartSign{kind: stray, Span: s.part(from, s.at), text: "a chart has no comments", remedy: "move it to a line of its own above the chart"}
	}
	for r := s.peek(0); r != 0 && !unicode.IsSpace(r) && !strings.ContainsRune("|[]:", r); r = s.peek(0) {
		s.at++
	}
	return chartSign{kind: word, Span: s.part(from, s.at), text: string(s.runes[from:s.at])}
}

func (s *chartScanner) startsBarLine() bool {
	return s.peek(0) == '|' || s.peek(0) == ':' && s.peek(1) == '|'
}

// barLine reads one bar line: | or ||, with a colon before it, behind it or on
// both sides.
func (s *chartScanner) barLine() chartSign {
	from, sign := s.at, chartSign{kind: barLine}
	if s.peek(0) == ':' {
		sign.closes = true
		s.at++
	}
	s.at++
	if s.peek(0) == '|' {
		s.at++
	}
	if s.peek(0) == ':' {
		sign.opens = true
		s.at++
	}
	sign.Span = s.part(from, s.at)
	return sign
}

// section reads the name of a section in its brackets.
func (s *chartScanner) section() chartSign {
	from := s.at
	s.at++
	for r := s.peek(0); r != 0 && !strings.ContainsRune("]|[\n", r); r = s.peek(0) {
		s.at++
	}
	if s.peek(0) != ']' {
		return chartSign{kind: stray, Span: s.part(from, s.at), text: "the name of a section is not closed", remedy: "write it as [A]"}
	}
	s.at++
	name := strings.TrimSpace(string(s.runes[from+1 : s.at-1]))
	return chartSign{kind: sectionName, Span: s.part(from, s.at), text: name}
}
