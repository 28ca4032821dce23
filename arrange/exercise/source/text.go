package source

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"thirdwise/theory/remedy"
)

// A Text is a value of the file, or part of one, as YAML reads it: its
// characters, each with its place in the file.
type Text struct {
	file  *File
	runes []rune
	at    []Pos
	start Span // where a text without characters stands, or one whose characters cannot be told apart
}

// String returns the text without white space around it.
func (t Text) String() string { return strings.TrimSpace(string(t.runes)) }

// Len returns how many characters the text has, white space around it included.
func (t Text) Len() int { return len(t.runes) }

// Rune returns a character of the text, and 0 beyond its end.
func (t Text) Rune(i int) rune {
	if i >= len(t.runes) {
		return 0
	}
	return t.runes[i]
}

// Part returns the characters from i up to j.
func (t Text) Part(i, j int) Text {
	j = min(j, len(t.runes))
	if i >= j {
		return Text{file: t.file, start: t.start}
	}
	return Text{file: t.file, runes: t.runes[i:j], at: t.at[i:j], start: Span{t.at[i], 1}}
}

// Span returns where the text stands, without white space around it, as far as
// it stands in one line.
func (t Text) Span() Span {
	first, last := 0, len(t.runes)
	for first < last && unicode.IsSpace(t.runes[first]) {
		first++
	}
	for last > first && unicode.IsSpace(t.runes[last-1]) {
		last--
	}
	if first == last {
		return t.start
	}
	s := Span{t.at[first], 1}
	for i := first + 1; i < last; i++ {
		if t.runes[i] == '\n' || t.at[i] != (Pos{s.Line, s.Column + i - first}) {
			break
		}
		s.Length++
	}
	return s
}

// Words divides the text at white space.
func (t Text) Words() []Text { return t.Fields(unicode.IsSpace) }

// Fields divides the text at the characters that separate.
func (t Text) Fields(separates func(rune) bool) []Text {
	var fields []Text
	for i := 0; i < len(t.runes); i++ {
		if separates(t.runes[i]) {
			continue
		}
		j := i
		for j < len(t.runes) && !separates(t.runes[j]) {
			j++
		}
		fields = append(fields, t.Part(i, j))
		i = j
	}
	return fields
}

// Beginning returns where the text begins, for a finding that marks nothing.
func (t Text) Beginning() Text { return Text{file: t.file, start: Span{Pos: t.Span().Pos}} }

// Commented reports whether a comment stands in the line of the text.
func (t Text) Commented() bool { return strings.Contains(t.file.lines[t.Span().Line-1], " #") }

// Through returns the text from the beginning of one to the end of another that
// follows it, for a finding about both. It has no characters where they stand in
// different lines; then the first alone is marked.
func (t Text) Through(last Text) Text {
	from, to := t.Span(), last.Span()
	through := Text{file: t.file, start: from}
	if from.Line != to.Line {
		return through
	}
	line := []rune(t.file.lines[from.Line-1])
	for column := from.Column; column < to.Column+to.Length; column++ {
		through.runes = append(through.runes, line[column-1])
		through.at = append(through.at, Pos{from.Line, column})
	}
	return through
}

// curlyQuotes are the typographic quotation marks of most languages.
const curlyQuotes = "“”„‘’‚«»"

// withoutCurlyQuotes returns the text without the pair of typographic quotation
// marks around it that a word processor makes of plain ones.
func (t Text) withoutCurlyQuotes() Text {
	last := len(t.runes) - 1
	if last < 1 || !strings.ContainsRune(curlyQuotes, t.runes[0]) || !strings.ContainsRune(curlyQuotes, t.runes[last]) {
		return t
	}
	return t.Part(1, last)
}

// Mistake adds a mistake in this text to the findings of its file, with a remedy in
// words.
func (t Text) Mistake(message, words string) { t.Slip(message, remedy.Say(words)) }

// Slip adds a mistake in this text whose remedy is to be written in the text's place,
// where it is known what to write.
func (t Text) Slip(message string, r remedy.Remedy) { t.find(Mistake, message, r) }

// Lacks adds a mistake in this text: what its remedy writes is missing behind another, the
// last.
func (t Text) Lacks(message string, last Text, r remedy.Remedy) {
	place := last.Span()
	if t.file.escaped[place.Pos] {
		r = remedy.Say(r.String())
	}
	place.Column, place.Length = place.Column+place.Length, 0
	t.file.slip(t.Span(), message, place, r)
}

// Warn adds a warning about this text to the findings of its file.
func (t Text) Warn(message string, r remedy.Remedy) { t.find(Warning, message, r) }

// Note adds a note on this text to the findings of its file.
func (t Text) Note(message string) { t.find(Note, message, remedy.Remedy{}) }

// find adds a finding. Of a text that goes on in another line only the beginning is
// marked, and nothing is written there.
func (t Text) find(s Severity, message string, r remedy.Remedy) {
	at := t.Span()
	if at.Length != utf8.RuneCountInString(t.String()) {
		r = remedy.Say(r.String())
	}
	t.file.add(s, at, message, r)
}

// Quoted returns the text in quotation marks, cut where it is long.
func (t Text) Quoted() string { return Quoted(t.String()) }

// Quoted returns a text in quotation marks, cut where it is long.
func Quoted(s string) string {
	const longest = 40
	if runes := []rune(s); len(runes) > longest {
		s = string(runes[:longest-1]) + "…"
	}
	return `"` + strings.Join(strings.Fields(s), " ") + `"` // of which nothing needs an escape: see wrongCharacter
}
