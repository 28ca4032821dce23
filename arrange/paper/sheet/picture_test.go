package sheet

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
)

// What stands around the music, looked at by a person: titles, facts, notes of a
// metronome, the right hand, grips, the map of the key, what the signs mean.
func TestWhatStandsAroundTheMusicLooksAsItDid(t *testing.T) {
	long := strings.Repeat("word after word ", 9)
	for name, c := range map[string]struct {
		kind    kind
		options Options
		beside  bool
		text    string
	}{
		"swing":     {text: "title: Swing\nkey: C major\nfeel: swing\nsubtitle: for two hands\nby: J. Doe\ntempos: [60, 80, 100]\nclimb: 1\nchart: '| C | F#m7b5 | E7/G# | Bbm |'\n"},
		"wordy":     {beside: true, text: "title: " + long + "\nsubtitle: " + long + "\nby: " + long + "\nstudent: yes\nnote: |\n  " + long + long + "\n\n  Again.\nkey: Eb major\nfeel: swing sixteenths\nchart: '| Eb Cm7b5 | Abmaj7 | Bb7sus4 Gm | Db |'\nguitar: {capo: 1, tuning: D2 A2 D3 G3 B3 E4}\n"},
		"half":      {kind: fillIn, options: Options{Blank: true}, text: "title: Halves\nby: " + strings.Repeat("somebody ", 14) + "\nkey: E minor\nmeter: 2/2\nchart: '| Em | Am | B7 | Em |'\nguitar: {tuning: F#1 B1 E2 A2 D3 G3 B3 E4, position: 7}\n"},
		"compound":  {kind: chordChart, text: "title: Six\nkey: Db dorian\nmeter: 6/8\nchart: '| Dbm | Gb7 | Ebm | C#m |'\npasses: 1\ntempos: [50]\n"},
		"free":      {text: "title: Free\nkey: A minor\nfeel: swing sixteenths\nchart: '| Am | E7 | Dm | N.C. | F | A7/C# | B7 | E7 |'\nline: {density: 100%}\nguitar: {position: free}\n"},
		"beside":    {beside: true, options: Options{Staves: system.Notation}, text: "title: Beside\nkey: G major\nchart: '| G | D | Em | C |'\nguitar: {position: 9}\n"},
		"no chords": {beside: true, text: "title: Nothing held\nkey: G major\nchart: '| N.C. | N.C. |'\n"},
		"one word":  {kind: chordChart, text: "title: " + strings.Repeat("Long", 18) + "\nkey: C major\nchart: '| C | F | G | C |'\n"},
		"to write":  {kind: fillIn, text: "title: Write\nkey: Bb major\nchart: '| Bb |'\n"},
	} {
		s := arrangetest.Score(t, c.text)
		c.options.Paper = drawing.A4
		staff := usualStaff
		if c.beside {
			staff = smallerStaves[1]
		}
		n, o := paper.Notate(s), c.options
		switch c.kind {
		case chordChart:
			n, o = chordsAlone(n, o)
		case fillIn:
			n, o = toFillIn(n, o)
		}
		l := newLayout(n, o, c.kind, staff)
		l.mapBeside = c.beside
		var marks []drawing.Mark
		y := 5.0
		for _, b := range l.blocks(nil) {
			marks = append(marks, drawing.Moved(b.marks, 5, y-b.box.Top)...)
			y += b.height() + b.after
		}
		sheet := &drawing.Sheet{Title: name, Paper: drawing.Paper{Name: "wide", Width: 2 * (l.width + 10), Height: 2 * (y + 5)}, Space: 2, Pages: []drawing.Page{{Marks: marks}}}
		var out bytes.Buffer
		require.NoError(t, drawing.WriteSVG(&out, sheet))
		goldentest.Equal(t, filepath.Join("testdata", "around", strings.ReplaceAll(name, " ", "-")+".svg"), out.String())
	}
}

// How sheets of many lengths and kinds fall on pages, read by a person: the height of a
// staff in millimetres, and for each page its sections, and its parts with where they begin and end, in spaces.
func TestPagesAreDividedAsTheyWere(t *testing.T) {
	var out strings.Builder
	bars := func(n int) string { return strings.Repeat(" C | F | G | Am |", n/4) }
	for _, text := range []string{
		"chart: '|" + bars(4) + "'\n", "chart: '|" + bars(8) + "'\n", "chart: '|" + bars(16) + "'\n", "chart: '|" + bars(20) + "'\n", "chart: '|" + bars(28) + "'\n",
		"chart: |\n  [A] |" + bars(16) + "\n  [B] |" + bars(12) + "\n  [C] |" + bars(8) + "\n",
		"chart: |\n  [Verse] |" + bars(32) + "\n  [Bridge] |" + bars(32) + "\n", "chart: '|" + bars(120) + "'\n",
		"chart: '|" + bars(12) + "'\nstudent: yes\nnote: " + strings.Repeat("Slowly at first. ", 30) + "\nbass: walking\n",
		"chart: '|" + bars(16) + "'\nline: {grid: sixteenths, density: 100%}\n",
		"chart: '| C Dm Em F | G Am D7 E7 | A7 Cmaj7 Fmaj7 C | B7 Bb Eb Ab |'\n",
	} {
		n := paper.Notate(arrangetest.Score(t, "title: A title that is quite long, as titles of exercises sometimes are\nkey: C major\n"+text))
		fmt.Fprintf(&out, "%s", text)
		for i, lay := range []func(*paper.Notation, Options) (*drawing.Sheet, error){Lay, LayChords, LayFillIn} {
			for _, o := range []Options{{Paper: drawing.A4}, {Paper: drawing.Letter, Staves: system.Tab, Fit: true}, {Paper: drawing.A4, Large: true, Blank: true}} {
				sheet, err := lay(n, o)
				require.NoError(t, err)
				fmt.Fprintf(&out, "  %s, %s, %.1f mm\n", [...]string{"exercise", "chords", "to fill in"}[i], o.Paper.Name, 4*sheet.Space)
				for _, page := range sheet.Pages {
					out.WriteString("   ")
					for _, h := range page.Headings {
						fmt.Fprintf(&out, " %s at %.1f", h.Name, h.Y)
					}
					begun := 0
					for _, p := range page.Parts {
						box := drawing.BoundsOf(page.Marks[begun:p.End])
						says, _, _ := strings.Cut(p.Says, ",")
						fmt.Fprintf(&out, " %s %.1f-%.1f", [...]string{drawing.Heading1: "heading", drawing.Paragraph: "words", drawing.Figure: "figure"}[p.Role]+" "+says, box.Top, box.Bottom)
						begun = p.End
					}
					_, texts := wordsOf(page.Marks[begun:])
					fmt.Fprintf(&out, " %q\n", texts)
				}
			}
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "pages.txt"), out.String())
}
