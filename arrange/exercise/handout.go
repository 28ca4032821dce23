package exercise

import (
	"fmt"
	"strings"

	"thirdwise/arrange/exercise/source"
)

// readNote reads what the teacher says to the student: paragraphs with empty lines
// between them.
func readNote(t source.Text) []string {
	if n := len([]rune(t.String())); n > maxNote {
		t.Mistake(fmt.Sprintf("the note has %d characters", n), fmt.Sprintf("use at most %d", maxNote))
	}
	var paragraphs []string
	for text := range strings.SplitSeq(t.String(), "\n\n") {
		if words := strings.Fields(text); len(words) > 0 {
			paragraphs = append(paragraphs, strings.Join(words, " "))
		}
	}
	return paragraphs
}

func readYesOrNo(t source.Text) bool {
	i, _ := choose(t, "yes or no", []string{"no", "yes"}, map[string]string{
		"true": "yes", "on": "yes", "y": "yes", "false": "no", "off": "no", "n": "no", "none": "no",
	})
	return i == 1
}
