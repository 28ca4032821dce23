package chart

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory/remedy"
)

// A sign is one sign of a chart.
type sign struct {
	source.Text
	kind          signKind
	closes, opens bool  // the repeat dots of a bar line, on its left and right
	times         []int // of an ending, rising
}

type signKind int

const (
	word        signKind = iota // a chord, / or %, a repeat's count
	barLine                     // | or ||, with : on either side where repeats meet
	sectionName                 // [A]
	endingTimes                 // 1. or 1.-3. at the beginning of a bar
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
		if s.fault != "" {
			found.Slip(s.fault, s.remedy)
			s.fault = ""
		}
		signs = append(signs, found)
	}
	return signs
}

type scanner struct {
	text   source.Text
	at     int    // of the next character of the text
	fault  string // of the last stray sign
	remedy remedy.Remedy
}

// peek returns the character some places ahead, 0 beyond the end.
func (s *scanner) peek(ahead int) rune { return s.text.Rune(s.at + ahead) }

// ahead returns what lies ahead, as far as the times of an ending may go.
func (s *scanner) ahead() string { return s.text.Part(s.at, s.at+longestEnding).String() }

// longestEnding is how many characters the times of an ending have at most.
const longestEnding = 40

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
	case r == '𝄆':
		return s.misdrawn("𝄆", "is not read", sign{kind: barLine, opens: true})
	case r == '𝄇':
		return s.misdrawn("𝄇", "is not read", sign{kind: barLine, closes: true})
	case r == '[' && s.peek(1) == ':':
		return s.misdrawn("[:", "is not a bar line", sign{kind: barLine, opens: true})
	case r == ':' && s.peek(1) == ']':
		return s.misdrawn(":]", "is not a bar line", sign{kind: barLine, closes: true})
	case r == '[':
		return s.section()
	case jump.MatchString(s.ahead()):
		s.at += utf8.RuneCountInString(strings.TrimRight(jump.FindString(s.ahead()), " |\n"))
		return s.stray("a chart has no jumps", remedy.Say("write out the bars that are played, or use a repeat with endings: |: C |1. F :|2. G |"))
	case unicode.IsDigit(r):
		if times := endingTimesOf(s.ahead()); times != nil {
			s.at += utf8.RuneCountInString(endingPattern.FindString(s.ahead()))
			return sign{kind: endingTimes, times: times}
		}
	case r == ']':
		s.at++
		return s.stray("this bracket closes nothing", remedy.Say("write a section's name as [A]"))
	case r == ':':
		s.at++
		return s.stray("a colon without a bar line", remedy.Say("write a repeat as |: and :|"))
	case r == '#' && unicode.IsSpace(s.peek(1)):
		s.until("\n")
		return s.stray("a chart has no comments", remedy.Say("move it to a line of its own above the chart"))
	}
	from := s.at
	for s.at < s.text.Len() && !unicode.IsSpace(s.peek(0)) && !strings.ContainsRune("|[]:", s.peek(0)) {
		if s.at > from && s.peek(0) == '(' {
			s.bracket()
		}
		s.at++
	}
	switch {
	case s.at == from+1 && strings.ContainsRune(multiplied, s.text.Rune(from)):
		s.count()
	case s.peek(0) == ':' && unicode.IsSpace(s.peek(1)):
		return s.before(s.text.Part(from, s.at))
	}
	return sign{kind: word}
}

// bracket moves over what stands in brackets behind a root, as far as the one that closes
// them: a blank there, as in C7(b9 b13), divides no chords.
func (s *scanner) bracket() {
	inside := 1
	for !strings.ContainsRune(")|[]:\n\x00", s.peek(inside)) {
		inside++
	}
	if s.peek(inside) == ')' {
		s.at += inside
	}
}

// before moves over the colon behind a word, and says what to write in their place.
func (s *scanner) before(name source.Text) sign {
	s.at++
	why := asSection(name.String())
	switch said := name.String(); {
	case strings.Trim(said, "0123456789") == "":
		why = remedy.Write("leave it out: bars are counted by themselves", "")
	case strings.ToLower(said) == said:
		why = remedy.Say(why.String() + "; a setting stands at the beginning of its line, not in the chart")
	}
	return s.stray("a colon after "+name.Quoted(), why)
}

// jump matches signs that tell where to play on, which are words behind a bar line or
// a blank (common practice).
var jump = regexp.MustCompile(`^(?:D\.[CS]\.?(?: al (?:Fine|Coda|Segno))?|(?i:to coda|fine|coda|dal segno|da capo)(?: al (?:Fine|Coda|Segno))?|[𝄋𝄌])(?:[ |\n]|$)`)

// misdrawn moves over the sign of a repeat that is drawn as no chart draws it, and returns
// what is meant.
func (s *scanner) misdrawn(drawn, fault string, meant sign) sign {
	s.at += utf8.RuneCountInString(drawn)
	s.fault, s.remedy = drawn+" "+fault, remedy.Write("write %s where a repeat begins", "|:")
	if meant.closes {
		s.remedy = remedy.Write("write %s where a repeat ends", ":|")
	}
	return meant
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

func (s *scanner) stray(fault string, why remedy.Remedy) sign {
	s.fault, s.remedy = fault, why
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
	from := s.at
	s.at++
	s.until("]|[\n")
	if s.peek(0) != ']' {
		name := strings.TrimSpace(s.text.Part(from+1, s.at).String())
		why := remedy.Write("write it as %s", "["+name+"]")
		switch {
		case name == "":
			why = remedy.Say("write it as [A]")
		case strings.Trim(name[:1], "123456789") == "":
			why = remedy.Say("write it as [" + name + "], or an ending as " + name[:1] + ".")
		}
		return s.stray("the name of a section is not closed", why)
	}
	s.at++
	inside := s.text.Part(from+1, s.at-1).String()
	if times := endingTimesOf(inside); times != nil && endingPattern.FindString(inside) == inside { // [1.]
		return sign{kind: endingTimes, times: times}
	}
	return sign{kind: sectionName}
}

// endingPattern is the times of an ending: 1. or 1. 2. or 1.-3. or 1, 2.
var endingPattern = regexp.MustCompile(`^\d{1,2}(?:\.? ?[-–,] ?\d{1,2}|\. ?\d{1,2})*\.`)

// endingTimesOf returns the times that a text begins with, rising, and nil where it
// begins with none.
func endingTimesOf(text string) []int {
	var times []int
	through := false // the number to come ends a range
	number := 0
	for _, r := range endingPattern.FindString(text) {
		switch {
		case unicode.IsDigit(r):
			number = 10*number + int(r-'0')
			continue
		case number > 0:
			for through && times[len(times)-1]+1 < number {
				times = append(times, times[len(times)-1]+1)
			}
			times, number, through = append(times, number), 0, false
		}
		through = through || r == '-' || r == '–'
	}
	return times
}
