// Package remedy says of something that is wrong in a text what would be right: in words,
// for people, and where it is known what is to be written there, as texts, for whoever
// writes it. Both are one, so that they cannot disagree:
//
//	Meant("Am7")                      did you mean Am7?     Am7
//	Write("write %s", "C/E", "C")     write C/E or C        C/E, C
//	Say("press on")                   press on              -
//
// The package is pure, and knows nothing of what the texts are about.
package remedy

import (
	"errors"
	"fmt"
	"strings"
)

// A Remedy is what would be right. The zero Remedy is none.
type Remedy struct {
	words string   // with a %s for each text, or one for all of them
	texts []string // any of which may be written in the place of what is wrong
}

// Say returns a remedy in words alone: what to write is for a person to find.
func Say(words string) Remedy { return Remedy{words: words} }

// Write returns the remedy of writing one of some texts. They stand in the words at %s,
// each at its own, or all of them at a single one. Words without %s say what an empty
// text does, which takes out what is wrong.
func Write(words string, texts ...string) Remedy { return Remedy{words, texts} }

// Meant returns the remedy of writing what was probably meant, one of some texts.
func Meant(texts ...string) Remedy { return Write("did you mean %s?", texts...) }

// String returns the remedy in words.
func (r Remedy) String() string {
	parts, shown := strings.Split(r.words, "%s"), r.texts
	switch {
	case len(shown) == 0:
		return r.words
	case len(parts) == 2:
		shown = []string{AnyOf(shown)}
	}
	for i := range parts[1:] {
		parts[i] += shown[i]
	}
	return strings.Join(parts, "")
}

// Texts returns what may be written in the place of what is wrong, any one of them;
// nothing where that is not known.
func (r Remedy) Texts() []string { return r.texts }

// AnyOf lists texts as a choice: "density, grid, low or high".
func AnyOf(texts []string) string {
	last := len(texts) - 1
	if last < 1 {
		return strings.Join(texts, "")
	}
	return strings.Join(texts[:last], ", ") + " or " + texts[last]
}

// An Error is what is wrong in a text that was read, and its remedy: what to write in the
// place of the whole text.
type Error struct {
	Found  string // lower case, no full stop
	Remedy Remedy
}

// Errorf returns an error that says what was found, with its remedy.
func Errorf(r Remedy, found string, args ...any) error {
	return &Error{fmt.Sprintf(found, args...), r}
}

// Error returns what was found and the remedy in one line.
func (e *Error) Error() string {
	if words := e.Remedy.String(); words != "" {
		return e.Found + "; " + words
	}
	return e.Found
}

// Of returns what an error says was found, and the remedy if it has one.
func Of(err error) (found string, r Remedy) {
	var own *Error
	if errors.As(err, &own) {
		return own.Found, own.Remedy
	}
	return err.Error(), Remedy{}
}

// In returns the error of a part of a text as one of the whole, with the part's name
// before what was found. What to write in the place of the whole is not known.
func In(part string, err error) error {
	found, r := Of(err)
	return &Error{part + ": " + found, Say(r.String())}
}

// Around returns the error of a part of a text as one of the whole, in which others stand
// before the part and behind it.
func Around(before string, err error, behind string) error {
	found, r := Of(err)
	whole := &Error{found, Say(r.words)}
	for _, text := range r.texts {
		whole.Remedy.texts = append(whole.Remedy.texts, before+text+behind)
	}
	return whole
}
