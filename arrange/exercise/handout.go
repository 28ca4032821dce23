package exercise

import (
	"fmt"
	"regexp"
	"strings"

	"thirdwise/arrange/exercise/source"
)

// listed matches a line of a list: with a dash or another sign, or a number.
var listed = regexp.MustCompile(`^\s*(?:[-–—•*]|\d{1,2}[.)])\s`)

// readNote reads what the teacher says to the student: paragraphs with empty lines
// between them, and lines of a list.
func readNote(t source.Text) []string {
	if n := len([]rune(t.String())); n > maxNote {
		t.Mistake(fmt.Sprintf("the note has %d characters", n), fmt.Sprintf("use at most %d", maxNote))
	}
	var paragraphs, begun []string
	end := func() {
		if len(begun) > 0 {
			paragraphs, begun = append(paragraphs, strings.Join(begun, " ")), nil
		}
	}
	for line := range strings.SplitSeq(t.String(), "\n") {
		words := strings.Fields(line)
		if len(words) == 0 || listed.MatchString(line) {
			end()
		}
		begun = append(begun, words...)
	}
	end()
	return paragraphs
}

func readYesOrNo(t source.Text) bool {
	i, _ := choose(t, "yes or no", []string{"no", "yes"}, map[string]string{
		"true": "yes", "on": "yes", "y": "yes", "false": "no", "off": "no", "n": "no", "none": "no",
	})
	return i == 1
}
