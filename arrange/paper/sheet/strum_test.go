package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// readings returns what the groups among marks say.
func readings(marks []drawing.Mark) (all []string) {
	for _, m := range marks {
		if g, ok := m.(drawing.Group); ok {
			all = append(all, g.Reads)
		}
	}
	return all
}

// Every bar of a strum or a pick stands under the head, with its accents, damped
// strokes and strings, on the sheet, the chord chart and the sheet to fill in.
func TestTheRightHandIsDrawnAsItIsWritten(t *testing.T) {
	for _, c := range []struct{ setting, want string }{
		{"strum: \">D - x U | D U\"", "Strum: accented down - damped up | down up"},
		{"pick: R 3 (21) - | R - - 1", "Pick: R 3 (21) - | R - - 1"},
		{"meter: 3/4", "Strum: down - down up down up | down - down - down up; end of a phrase: down up down up down up"},
	} {
		s := arrangetest.Score(t, "title: Hand\nkey: C major\nchart: |\n  | C | F | G | C |\n"+c.setting+"\n")
		for _, lay := range []func(*paper.Notation, Options) (*drawing.Sheet, error){Lay, LayChords, LayFillIn} {
			sheet, err := lay(paper.Notate(s), Options{Paper: drawing.A4})
			require.NoError(t, err)
			require.Contains(t, readings(sheet.Pages[0].Marks), c.want)
		}
	}
}
