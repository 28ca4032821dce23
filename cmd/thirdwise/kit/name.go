package kit

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

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
	switch name := dashed(text); {
	case name == "":
		return "exercise"
	case reserved.MatchString(name):
		return name + "-kit"
	default:
		return name
	}
}

// reserved matches the names that Windows keeps for devices (Naming Files, Paths,
// and Namespaces, Microsoft, from memory).
var reserved = regexp.MustCompile(`^(con|prn|aux|nul|(com|lpt)[0-9])$`)

// Folded returns a name as those file systems compare it that tell neither cases
// nor the Unicode forms of a letter apart.
func Folded(name string) string { return cases.Fold().String(norm.NFKC.String(name)) }

// KeySuffix is what a key adds to the name of a kit: "-b-flat-major".
func KeySuffix(key theory.Key) string {
	return "-" + dashed(key.String())
}

// PositionSuffix is what a position adds to the name of a kit: "-position-5",
// "-open".
func PositionSuffix(p neck.Position) string {
	if _, fixed := p.Fret(); fixed {
		return "-position-" + p.String()
	}
	return "-" + p.String()
}

// DensitySuffix is what a density, in per cent, adds to the name of a kit:
// "-density-25".
func DensitySuffix(density int) string { return fmt.Sprintf("-density-%d", density) }

// signs are those that would be lost in a name, and tell two of them apart.
var signs = strings.NewReplacer("#", " sharp ", "♯", " sharp ", "♭", " flat ")

func dashed(text string) string {
	var name strings.Builder
	gap := false
	for _, r := range norm.NFC.String(strings.ToLower(signs.Replace(text))) {
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
