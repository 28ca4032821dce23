// Package goldentest compares what a test has made with a golden file, which a
// person has looked at. With the flag -update a test writes its golden files
// anew:
//
//	go test ./arrange/paper -update
package goldentest

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Equal fails the test where what it has got is not what the golden file holds,
// and shows the first difference.
func Equal(t require.TestingT, file, got string) {
	if helper, ok := t.(interface{ Helper() }); ok {
		helper.Helper()
	}
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
		require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	if difference := Difference(string(want), got); difference != "" {
		t.Errorf("%s: %s\nlook at what has changed, then run the test with -update", file, difference)
	}
}

// Difference describes the first place where two texts differ: its line and
// column, and what both have there. Of equal texts it is empty.
func Difference(want, got string) string {
	if want == got {
		return ""
	}
	at := 0
	for at < len(want) && at < len(got) && want[at] == got[at] {
		at++
	}
	for at > 0 && !(runeStarts(want, at) && runeStarts(got, at)) {
		at--
	}
	begun := strings.LastIndexByte(want[:at], '\n') + 1
	return fmt.Sprintf("line %d, column %d\n  want %s\n  got  %s",
		strings.Count(want[:at], "\n")+1, utf8.RuneCountInString(want[begun:at])+1,
		excerpt(want, begun, at), excerpt(got, begun, at))
}

// runeStarts reports whether no character goes on at a byte.
func runeStarts(text string, at int) bool { return at == len(text) || utf8.RuneStart(text[at]) }

// How much of a line is shown before and behind the first difference, in bytes.
// A line of a drawing can be as long as a page.
const (
	shownBefore = 60
	shownBehind = 60
)

// excerpt quotes the line that begins at a byte around another byte of it, so
// that spaces at its end and control characters can be seen.
func excerpt(text string, begun, at int) string {
	if at == len(text) && begun == at {
		return "the end"
	}
	from, to := begun, len(text)
	if end := strings.IndexByte(text[at:], '\n'); end >= 0 {
		to = at + end
	}
	if from < at-shownBefore {
		from = at - shownBefore
	}
	if to > at+shownBehind {
		to = at + shownBehind
	}
	for !runeStarts(text, from) {
		from++
	}
	for !runeStarts(text, to) {
		to--
	}
	return fmt.Sprintf("%q", text[from:to])
}
