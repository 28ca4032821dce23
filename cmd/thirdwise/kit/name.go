package kit

import (
	"path/filepath"
	"strings"
	"unicode"

	"thirdwise/theory"
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

// InKey adds a key to a kit's name: "porch-light-b-flat-major".
func InKey(name string, key theory.Key) string {
	words := strings.NewReplacer("♯", " sharp", "♭", " flat").Replace(key.String())
	return name + "-" + dashed(words)
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
