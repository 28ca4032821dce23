package kit

import (
	"path/filepath"
	"strings"
	"unicode"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// nameLimit is the longest name in bytes. It leaves room for the endings of a
// kit's files below the 255 bytes that file systems take.
const nameLimit = 120

// Name makes the name of a kit, which its folder and files bear, from the path
// of an exercise's file, or from the title where there is no path: letters and
// digits in lower case, a dash for whatever stands between them. Letters of
// every script are kept. It is never empty, and never leads out of a folder.
func Name(path, title string) string {
	text := title
	if path != "" {
		base := filepath.Base(path)
		text = strings.TrimSuffix(base, filepath.Ext(base))
	}
	if name := dashed(text); name != "" {
		return name
	}
	return "exercise"
}

// KeySuffix is what a key adds to the name of a kit: "-b-flat-major".
func KeySuffix(key theory.Key) string {
	return "-" + dashed(strings.NewReplacer("♯", " sharp", "♭", " flat").Replace(key.String()))
}

// PositionSuffix is what a position adds to the name of a kit: "-position-5",
// "-open".
func PositionSuffix(p neck.Position) string {
	if _, fixed := p.Fret(); fixed {
		return "-position-" + p.String()
	}
	return "-" + p.String()
}

func dashed(text string) string {
	var name strings.Builder
	gap := false
	for _, r := range strings.ToLower(text) {
		if !unicode.In(r, unicode.Letter, unicode.Mark, unicode.Digit) {
			gap = name.Len() > 0
			continue
		}
		if name.Len()+len("-")+len(string(r)) > nameLimit {
			break
		}
		if gap {
			name.WriteByte('-')
			gap = false
		}
		name.WriteRune(r)
	}
	return name.String()
}
