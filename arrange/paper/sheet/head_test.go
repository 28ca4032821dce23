package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
)

// Who made an exercise stands at the right margin, below the title; on the last line of
// the headings where there is room.
func TestWhoMadeItStandsBelowTheTitleAtTheRight(t *testing.T) {
	type headings struct {
		title, subtitle string
		kind            kind
		beside          bool
	}
	cases := []headings{
		{"Alone", "", exercise, false},
		{"With a subtitle", "for two hands", exercise, true},
		{"A chart", "", chordChart, true},
		{"Some title that is nearly as wide as the page", "for two hands", exercise, true},
		{"In two lines", strings.Repeat("for two hands ", 8), exercise, true},
		{"No room", strings.Repeat("for two hands ", 7), exercise, false},
		{strings.Repeat("A long title ", 6), "", exercise, false},
		{strings.Repeat("A title in two lines ", 6), "", exercise, true},
	}
	s := arrangetest.Score(t, "title: Title\nby: J. Doe\nkey: C major\nchart: '| C | F |'\n")
	room := newLayout(paper.Notate(s), Options{Paper: drawing.A4}, exercise, usualStaff).width - 2*(drawing.Regular.Width(factSize, "J. Doe")+flow.Space)
	for n := 1; drawing.Italic.Width(subtitleSize, strings.Repeat("o", n)) < room+4; n++ {
		subtitle := strings.Repeat("o", n)
		cases = append(cases, headings{"Any", subtitle, exercise, drawing.Italic.Width(subtitleSize, subtitle) < room})
	}
	for _, c := range cases {
		s.Title = c.title
		s.Handout.Subtitle = c.subtitle
		l := newLayout(paper.Notate(s), Options{Paper: drawing.A4}, c.kind, usualStaff)
		boxes, texts := wordsOf(l.title())
		by, above := len(boxes)-1, len(boxes)-2
		require.Equal(t, "J. Doe", texts[by])
		require.InDelta(t, l.width, boxes[by].Right, 0.02)
		if !c.beside {
			require.Greater(t, boxes[by].Top, boxes[above].Bottom, "below %q", texts[above])
			continue
		}
		require.InDelta(t, boxes[above].Bottom, boxes[by].Bottom, 1e-9, "on the line of %q", texts[above])
		require.Greater(t, boxes[by].Left-boxes[above].Right, flow.Space-0.1, "clear of it")
	}
}

// A note stands in the middle, however short its lines are.
func TestANoteStandsInTheMiddle(t *testing.T) {
	for _, note := range []string{"Slowly.", "Slowly at first.\n\n  And in the second half, where the chords change twice a bar, slower than that, until both hands know the way."} {
		n := paper.Notate(arrangetest.Score(t, "title: Note\nkey: C major\nchart: '| C | F |'\nnote: |\n  "+note+"\n"))
		l := newLayout(n, Options{Paper: drawing.A4}, exercise, usualStaff)
		marks := l.note()
		box := drawing.BoundsOf(marks)
		require.InDelta(t, l.width/2, (box.Left+box.Right)/2, 1e-9, note)
		for _, m := range marks {
			require.InDelta(t, box.Left, m.Bounds().Left, 1e-9, "its lines begin below one another")
		}
	}
}
