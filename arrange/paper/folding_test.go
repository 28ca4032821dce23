package paper

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// shapeOf writes measures with their sections, repeats and endings, each with the first
// of its chords and how often it is played.
func shapeOf(n *Notation) string {
	var signs []string
	for _, m := range n.Measures {
		if m.Section != "" {
			signs = append(signs, "["+m.Section+"]")
		}
		if m.RepeatOpens {
			signs = append(signs, "|:")
		}
		if m.Ending != nil && m.Ending.Begins {
			signs = append(signs, m.Ending.String())
		}
		signs = append(signs, fmt.Sprintf("%s*%d", m.Chords[0].Symbol(), len(m.Bars)))
		if m.RepeatTimes > 0 {
			signs = append(signs, fmt.Sprintf(":|x%d", m.RepeatTimes))
		}
	}
	return strings.Join(signs, " ")
}

// What is played alike stands once, however often; and where a repeat has to be written
// out, its section is named once.
func TestEqualTimesThroughARepeatStandOnce(t *testing.T) {
	for chart, want := range map[string]string{
		"[A] |: C :| x12\n  [B] | F |":                     "[A] |: C*11 :|x11 C*1 [B] F*1",
		"| C |\n  [A] |: Am | G :| x12\n  | C |":           "C*1 [A] |: Am*12 1.–11. G*11 :|x12 12. G*1 C*1",
		"[A] |: F#m | E | D :| x12\n  | F#m |":             "[A] F♯m*1 E*1 D*1 |: F♯m*11 E*11 D*11 :|x11 F♯m*1",
		"| F |\n  [A] |: C | F |1.-3. G :|4. C |\n  | F |": "F*1 [A] |: C*3 F*3 G*3 :|x3 C*1 F*1 C*1 F*1",
	} {
		s := arrangetest.Score(t, "title: Fold\nkey: C major\nchart: |\n  "+chart+"\nbass: walking\n")
		require.Equal(t, want, shapeOf(Notate(s)), chart)
	}
}
