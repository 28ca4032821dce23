package source

import (
	"strings"

	"thirdwise/theory/remedy"
)

// A Mend is what can be written in the place of a stretch of an exercise, so that what was
// found there is no more.
type Mend struct {
	Pos
	Length int    `json:"length"` // characters that are replaced; 0 where the text stands between others
	Text   string `json:"text"`   // "" takes the stretch out
}

// WriteTo writes the text into the lines of the exercise.
func (m Mend) WriteTo(lines []string) {
	line := []rune(lines[m.Line-1])
	from := m.Column - 1
	lines[m.Line-1] = string(line[:from]) + m.Text + string(line[from+m.Length:])
}

// mends returns what a remedy writes in the place of a stretch of the file. Nothing is
// written between escapes, nor what YAML would not read there as a text.
func (f *File) mends(place Span, r remedy.Remedy) (all []Mend) {
	if f.escaped[place.Pos] {
		return nil
	}
	for _, text := range r.Texts() {
		if !f.beginsValue(place.Pos) || !strings.HasPrefix(text, "[") && !startsReserved(text) {
			all = append(all, Mend{place.Pos, place.Length, text})
		}
	}
	return all
}

// beginsValue reports whether a place is the first behind the colon of a line.
func (f *File) beginsValue(at Pos) bool {
	before := string([]rune(f.lines[at.Line-1])[:at.Column-1])
	return strings.HasSuffix(strings.TrimSpace(before), ":")
}
