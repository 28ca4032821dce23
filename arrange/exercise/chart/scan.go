package chart

import (
	"strings"
	"unicode"

	"thirdwise/arrange/exercise/source"
)

// A sign is one sign of a chart.
type sign struct {
	source.Text
	kind          signKind
	closes, opens bool // the repeat dots of a bar line, on its left and right
}

type signKind int

const (
	word        signKind = iota // a chord, / or %, a repeat's count
	barLine                     // | or ||, with : on either side where repeats meet
	sectionName                 // [A]
	stray                       // belongs to nothing, which has been noted
)

// name returns the section's name within its brackets.
func (s sign) name() string { return strings.TrimSpace(strings.Trim(s.String(), "[]")) }

// scan divides a chart into its signs. Blanks and line breaks separate words; bar
// lines and brackets need none around them.
func scan(t source.Text) []sign {
	s := scanner{text: t}
	var signs []sign
	for s.at < t.Len() {
		if unicode.IsSpace(s.peek(0)) {
			s.at++
			continue
		}
		from := s.at
		found := s.next()
		found.Text = t.Part(from, s.at)
		if found.kind == stray {
			found.Mistake(s.fault, s.remedy)
		}
		signs = append(signs, found)
	}
	return signs
}

type scanner struct {
	text          source.Text
	at            int    // of the next character of the text
	fault, remedy string // of the last stray sign
}

// peek returns the character some places ahead, 0 beyond the end.
func (s *scanner) peek(ahead int) rune { return s.text.Rune(s.at + ahead) }

// until moves on to the next of the characters, or to the end.
func (s *scanner) until(ends string) {
	for s.at < s.text.Len() && !strings.ContainsRune(ends, s.peek(0)) {
		s.at++
	}
}

// next moves over one sign.
func (s *scanner) next() sign {
	switch r := s.peek(0); {
	case r == '|' || r == ':' && s.peek(1) == '|':
		return s.barLine()
	case r == '[':
		return s.section()
	case r == ']':
		s.at++
		return s.stray("this bracket closes nothing", "write a section's name as [A]")
	case r == ':':
		s.at++
		return s.stray("a colon without a bar line", "write a repeat as |: and :|")
	case r == '#' && unicode.IsSpace(s.peek(1)):
		s.until("\n")
		return s.stray("a chart has no comments", "move it to a line of its own above the chart")
	}
	from := s.at
	for s.at < s.text.Len() && !unicode.IsSpace(s.peek(0)) && !strings.ContainsRune("|[]:", s.peek(0)) {
		s.at++
	}
	if s.at == from+1 && strings.ContainsRune(multiplied, s.text.Rune(from)) {
		s.count()
	}
	return sign{kind: word}
}

// count moves over a blank and the number behind it, which belong to the x before.
func (s *scanner) count() {
	after := 1
	for unicode.IsDigit(s.peek(after)) {
		after++
	}
	if s.peek(0) == ' ' && after > 1 {
		s.at += after
	}
}

func (s *scanner) stray(fault, remedy string) sign {
	s.fault, s.remedy = fault, remedy
	return sign{kind: stray}
}

// barLine moves over one bar line: | or ||, with a colon before it, after it or on
// both sides.
func (s *scanner) barLine() sign {
	line := sign{kind: barLine}
	if s.peek(0) == ':' {
		line.closes = true
		s.at++
	}
	s.at++
	if s.peek(0) == '|' {
		s.at++
	}
	if s.peek(0) == ':' {
		line.opens = true
		s.at++
	}
	return line
}

// section moves over the name of a section in its brackets.
func (s *scanner) section() sign {
	s.at++
	s.until("]|[\n")
	if s.peek(0) != ']' {
		return s.stray("the name of a section is not closed", "write it as [A]")
	}
	s.at++
	return sign{kind: sectionName}
}
