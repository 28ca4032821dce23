package source

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"thirdwise/theory/remedy"
)

// MaxBytes is the size that an exercise may have.
const MaxBytes = 1 << 20

const (
	maxLine     = 10_000 // characters
	maxMistakes = 1000   // listed
)

// A File is the text of one exercise, with what has been found in it so far.
type File struct {
	name  string
	lines []string // without their ends
	found Findings

	escaped map[Pos]bool // where texts begin whose characters are written with escapes
}

// Read divides the bytes of an exercise into lines. The name is the one that
// findings are reported under. Bytes that are no text are a mistake; then there
// are no lines to read on from.
func Read(name string, src []byte) *File {
	f := &File{name: name, escaped: map[Pos]bool{}}
	if len(src) > MaxBytes {
		f.add(Mistake, Span{Pos: Pos{1, 1}}, fmt.Sprintf("the file has more than %d bytes", MaxBytes), remedy.Say("an exercise is a page of text: name the file that has it"))
		return f
	}
	for _, d := range documents {
		if bytes.HasPrefix(src, []byte(d.begins)) {
			f.mistake(Span{Pos: Pos{1, 1}}, "this is "+d.is+", and no plain text", "save it as plain text in UTF-8, or copy the text into a file of its own")
			return f
		}
	}
	text := string(bytes.TrimPrefix(src, []byte("\uFEFF")))
	text = strings.ReplaceAll(text, "\r\n", "\n")
	lines := strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n")
	if f.plainText(lines) {
		f.lines = lines
	}
	return f
}

// Findings returns what has been found so far, in the order of the file.
func (f *File) Findings() Findings {
	f.found.Sort()
	if len(f.found) > maxMistakes {
		f.found = f.found[:maxMistakes]
		f.found[maxMistakes-1].Message = "mistakes are no longer listed from here on"
		f.found[maxMistakes-1].Remedy = "mend those above first"
	}
	return f.found
}

// Finding makes a finding in the marked stretch of the file without adding it to
// those of the file. What its remedy has to write stands in the place of the stretch.
func (f *File) Finding(s Severity, at Span, message string, r remedy.Remedy) Finding {
	made := Finding{File: f.name, Span: at, Severity: s, Message: printable(message), Remedy: printable(r.String()), Mends: f.mends(at, r)}
	if i := at.Line - 1; i >= 0 && i < len(f.lines) {
		made.Excerpt = f.lines[i]
	}
	return made
}

func (f *File) add(s Severity, at Span, message string, r remedy.Remedy) {
	f.found = append(f.found, f.Finding(s, at, message, r))
}

// mistake adds a mistake, with a remedy in words.
func (f *File) mistake(at Span, message, words string) {
	f.add(Mistake, at, message, remedy.Say(words))
}

// slip adds a mistake whose remedy writes in another place than the one that is marked.
func (f *File) slip(at Span, message string, place Span, r remedy.Remedy) {
	f.mistake(at, message, r.String())
	f.found[len(f.found)-1].Mends = f.mends(place, r)
}

// documents are what programs save that are not for plain text, and how it begins
// (from memory).
var documents = []struct{ begins, is string }{
	{`{\rtf`, "a document with fonts in it (RTF)"},
	{"PK\x03\x04", "a packed file (a zip, or a word processor's document)"},
	{"\xD0\xCF\x11\xE0", "a word processor's document"},
	{"%PDF-", "a PDF"},
}

// plainText reports whether the lines are text in UTF-8, and notes the first
// place where they are not.
func (f *File) plainText(lines []string) bool {
	for i, line := range lines {
		if n := utf8.RuneCountInString(line); n > maxLine {
			at := Span{Pos{i + 1, maxLine + 1}, 1}
			f.mistake(at, fmt.Sprintf("the line has %d characters", n), fmt.Sprintf("break it; a line has at most %d, and a chart may go on in the next", maxLine))
			f.found[0].Excerpt = line
			return false
		}
		column := 0
		for offset, r := range line {
			column++
			message, remedy := wrongCharacter(r, line[offset:])
			if message == "" {
				continue
			}
			f.mistake(Span{Pos{i + 1, column}, 1}, message, remedy)
			f.found[0].Excerpt = strings.ToValidUTF8(line, string(utf8.RuneError))
			return false
		}
	}
	return true
}

// wrongCharacter says what is wrong with the character that a text begins with,
// and nothing where it may stand in an exercise.
func wrongCharacter(r rune, text string) (message, remedy string) {
	switch {
	case r == utf8.RuneError && !strings.HasPrefix(text, string(utf8.RuneError)):
		return fmt.Sprintf("the byte %#02x is not UTF-8", text[0]), "save the file as plain text in UTF-8"
	case r == '\t':
		return "", ""
	case unicode.IsControl(r) || r&0xFFFE == 0xFFFE || r >= 0xFDD0 && r <= 0xFDEF: // Unicode's noncharacters
		return fmt.Sprintf("the control character %U does not belong in a text", r), "delete it; an exercise is a plain text file"
	case invisible[r] != "":
		return fmt.Sprintf("an invisible character stands here, a %s (%U)", invisible[r], r), "delete it; typing the line again helps where it cannot be seen"
	}
	return "", ""
}

// invisible names the characters that come along unseen when text is copied from
// a page or a message (names after the Unicode Standard). Those that join letters
// are left alone, since names are written with them.
var invisible = map[rune]string{
	'\u00AD': "soft hyphen",
	'\u200B': "zero-width space",
	'\u200E': "left-to-right mark",
	'\u200F': "right-to-left mark",
	'\u202A': "left-to-right embedding",
	'\u202B': "right-to-left embedding",
	'\u202C': "pop directional formatting",
	'\u202D': "left-to-right override",
	'\u202E': "right-to-left override",
	'\u2028': "line separator",
	'\u2029': "paragraph separator",
	'\u2066': "left-to-right isolate",
	'\u2067': "right-to-left isolate",
	'\u2068': "first strong isolate",
	'\u2069': "pop directional isolate",
	'\u2060': "word joiner",
	'\uFEFF': "zero-width no-break space",
}

// printable escapes control characters, such as the ends of the lines of a value that
// a message quotes: nobody's text moves the cursor of a terminal.
func printable(s string) string {
	var b strings.Builder
	for _, r := range s {
		if unicode.IsControl(r) {
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
