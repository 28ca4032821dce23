package tab

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
)

// Tabs of what is hard to set, as a person has looked at them: counts of two digits,
// long chord symbols, chords off the counts, rests, pickups, repeats with names and
// endings that meet, frets of two digits, bars wider than a row, strings with long names.
func TestTabsOfWhatIsHardToSet(t *testing.T) {
	var out strings.Builder
	for _, text := range []string{
		"meter: 12/8\nchart: '| C | Am / F G |'\nline: {rhythm: 'x - - . . . x - - x x x | . . . x - - . . . x x .'}",
		"meter: 9/8\nchart: '| C | Am |'\nline: {rhythm: 'x - - . x - - . x | x . . . . . . . .'}",
		"chart: '| C | C#m7b5 F#m7b5 B7sus4 Emaj7 | Dm7b5/Ab G7 |'\nline: {density: 0%}",
		"chart: '| C / / Am F / G Em | C Am Dm G | G |'\nline: {density: 60%}",
		"chart: '| C Am F G Em Dm G C | C |'\nline: {grid: sixteenths, density: 40%}",
		"chart: '[pickup] N.C. / / G7 |: C | Am |1.-2. Dm :|3. G :| C |'",
		"chart: |\n  |: [Verse] C | Am :| x3\n  |: [A bridge with a name that is rather long] F | G :| x12\n  | [End] C |",
		"chart: '|: C | [Middle] Am |1. Dm | F :|2. G | G :|3. C |'",
		"chart: '[pickup] N.C. / / / / / / G7 | C | C / / Ebmaj7/G | N.C. / / / / / / C |'\nline: {density: 0%}",
		"chart: '| C | C / / / / / / / / / / / / / / G7sus4 | F |'\nline: {grid: triplets, density: 60%}",
		"chart: '|: C | Am | F |1.-11. Dm :|12. G |'\nline: {density: 0%}",
		"chart: '| C | Am | F |: [Second] Dm | G :| x3'\nline: {density: 0%}",
		"chart: '| C | G7 |'\nguitar: {position: 5}",
		"chart: '| F | Bb |'\nguitar: {position: 6}",
		"chart: '| C | F |'\nguitar: {capo: 3}",
		"chart: '| C | F |'\nguitar: {capo: 1}\nclimb: 1",
		"chart: '|: C | F :|'\nline: {density: 0%}\npick: R 3 | R 1",
		"chart: '| C | F |'\nguitar: {tuning: E2 A2 D3 G3 B3 Eb4, position: free}",
		"chart: '| C | F |'\nguitar: {tuning: Eb2 A2 D3 G3 B3 E4, position: free}",
		"chart: '| C | F | G | Am | Dm |'\nmeter: 2/4",
		"chart: '|: C | F :|'\nguitar: {tuning: B1 E2 A2 D3 G3 B3 E4}",
		"chart: '| C | F | G | Am | Dm |'\nguitar: {position: 9}\ntempos: [72]\npasses: 1",
		"meter: 7/4\nchart: '| C / / / Am / G | F |'\nline: {grid: sixteenths, density: 100%}\nguitar: {position: 9}",
		"meter: 7/4\nchart: '| C / / / / / Am | F |'\nline: {grid: sixteenths, rhythm: 'x--- ---- ---- ---- ---- ---x x..x'}\nguitar: {position: 9}",
		"meter: 7/4\nchart: '| C / / / / / Am | F |'\nline: {grid: sixteenths, rhythm: 'xxxx xx.x xxxx xxxx x.xx xxxx x---'}\nguitar: {position: 9}",
		"chart: '| C | F |'\nguitar: {tuning: D#2 G#2 C#3 F#3 A#3 D#4, position: free}\nclimb: 5\ntempos: [60, 75]",
		"chart: '| C | F |'\nline: {grid: triplets, rhythm: 'x.x ... xx. ..x'}\nfeel: swing",
		"meter: 12/8\nchart: '| Bdim7 / / / / / / / / / / F#m7b5 | C |'\nline: {rhythm: 'xxxx xxxx xxxx xxxx xxxx xxx-'}\nguitar: {capo: 1}",
		"meter: 2/2\nchart: '| C#7b9b13/G# F#7b9b13/C# B13sus4/F# E7b9b13/G# C#7b9b13/G# F#7b9b13/C# B13sus4/F# E7b9b13/G# C#7b9b13/G# F#7b9b13/C# B13sus4/F# E7b9b13/G# C#7b9b13/G# F#7b9b13/C# B13sus4/F# E7b9b13/G# | C |'\nline: {density: 0%}",
		"chart: '| N.C. |'",
		"chart: '| C | F |'\nmeter: 2/2\nstrum: '>D - x U | D U D U'",
		"chart: '| C | F |'\npick: R 3 (21) - | R 1",
		"chart: '| C | F | C | G |'\nsubtitle: For two hands\nby: A teacher\nstudent: true\nnote: |\n  Play it slowly at first, and listen to both strings of each third, which are to sound together; then a little faster.\n\n  Rest.",
	} {
		s := arrangetest.Score(t, "title: Hard\nkey: C major\n"+text+"\n")
		n := paper.Notate(s)
		fmt.Fprintf(&out, "%s\n\n%s", text, tabOf(t, s))
		if strings.Contains(text, "1.") && len(s.Bars) < 20 { // one bar at a time, as captions have it
			bars := Bars(n)
			out.WriteString("\n" + strings.Join(bars, "\n\n") + "\n")
			for _, bar := range bars {
				require.Equal(t, 1+6+1, strings.Count(bar, "\n")+1, "chords, strings, counts: %s", bar)
			}
		}
		out.WriteString(strings.Repeat("=", 80) + "\n")
		var systems bytes.Buffer
		require.NoError(t, WriteSystems(&systems, n))
		require.Contains(t, tabOf(t, s), systems.String())
	}
	goldentest.Equal(t, filepath.Join("testdata", "hard.txt"), out.String())
}

// What stands above a row of bars keeps a space from what is beside it, or else goes into
// a row above, and stays within the width.
func TestRemarksStandClearOfOneAnother(t *testing.T) {
	r := remarks{width: 20}
	r.put(0, "1")
	r.put(2, "[A]")
	r.put(17, "1.-3.")
	r.put(5, "x3")
	r.put(12, "x12")
	r.put(8, "x4")
	r.put(11, "x40")
	r.put(0, "2")
	var rows []string
	for _, row := range r.rows {
		rows = append(rows, string(row))
	}
	require.Equal(t, []string{
		"2    x3     x12     ",
		"1 [A]   x4 x40 1.-3.",
	}, rows)
}

// A bar is as wide as what stands in it needs, whatever stands in others.
func TestACrowdedBarWidensNoOther(t *testing.T) {
	rowsOf := func(chart string) []string {
		s := arrangetest.Score(t, "title: Wide\nkey: C major\nchart: '"+chart+"'\nline: {density: 0%}\nguitar: {position: 1}\n")
		var out bytes.Buffer
		require.NoError(t, WriteSystems(&out, paper.Notate(s)))
		return strings.Split(strings.Trim(out.String(), "\n"), "\n\n")
	}
	plain := rowsOf("| C | Am | F | G | C | Am | F | G |")
	crowded := rowsOf("| C | Am | C#m7b5 F#m7b5 B7sus4 Emaj7 | G | C | Am | F | G |")
	require.Len(t, plain, 2)
	require.Len(t, crowded, 3)
	require.Equal(t, plain[1], crowded[2])
	require.Contains(t, crowded[1], "   C♯m7♭5  F♯m7♭5  B7sus4  Emaj7   G\n")
	require.Contains(t, crowded[1], "   1   &   2   &   3   &   4  &    1 & 2 & 3 & 4 &")
}

// No row is wider than a mail shows, however little more its bars would need.
func TestNoRowOfATabIsTooWide(t *testing.T) {
	bar := func(wide int) string { // a character wider for each
		var chords strings.Builder
		for i, root := range []string{"C", "F", "G", "A"} {
			chords.WriteString(root + []string{"", "m", "m7", "m7b5"}[max(0, min(3, wide-3*i))] + " ")
		}
		return chords.String()
	}
	widest := 0
	for first := range 13 {
		for second := range 13 {
			chart := fmt.Sprintf("| %s | %s | Dm / / G | C / / G |", bar(first), bar(second))
			s := arrangetest.Score(t, "title: Width\nkey: C major\nchart: '"+chart+"'\nline: {density: 0%}\n")
			var out bytes.Buffer
			require.NoError(t, WriteSystems(&out, paper.Notate(s)))
			for line := range strings.Lines(out.String()) {
				wide := utf8.RuneCountInString(strings.TrimSuffix(line, "\n"))
				require.LessOrEqual(t, wide, paper.TextWidth, chart)
				widest = max(widest, wide)
			}
		}
	}
	require.Equal(t, paper.TextWidth, widest)
}

// Rows follow the phrases, as the sheet's do; what four bars of eighths need are 70 columns.
func TestRowsOfATabFollowThePhrases(t *testing.T) {
	bars := func(n int) string { return "|" + strings.Repeat(" C |", n) }
	for _, c := range []struct{ chart, line, want string }{
		{bars(4), "density: 50%", "4"},
		{bars(5), "density: 50%", "2 3"},
		{bars(6), "density: 50%", "4 2"},
		{bars(7), "density: 50%", "4 3"},
		{bars(8), "density: 50%", "4 4"},
		{bars(9), "density: 50%", "4 2 3"},
		{bars(12), "density: 50%", "4 4 4"},
		{bars(8), "density: 100%, grid: triplets", "2 2 2 2"},
		{bars(6), "density: 100%, grid: triplets", "2 2 2"},
		{bars(8), "density: 100%, grid: sixteenths", "2 2 2 2"},
		{bars(3), "density: 100%, grid: triplets", "3"},
		{"| C | F | G |\n  | C | F | G |", "density: 50%", "3 3"},
		{"| C | F |\n  | G | C |\n  | F | G |", "density: 50%", "4 2"},
		{"| C | F | G | C | F |\n  [B] | G | C |", "density: 50%", "2 3 2"},
		{"[pickup] N.C. / / G7 | C | F | G | C | F | G | C | F |", "density: 50%", "5 4"},
		{"[pickup] N.C. / / G7 | C | F | G | C | F | G | C | F |", "density: 0%", "5 4"},
		{"[pickup] N.C. / / G7 |\n  [A] | C | F | G | C |", "density: 50%", "5"},
		{"|: C | F | G |1. C :|2. Am | Dm | G | F |", "density: 0%", "4 4"},
		{"|: C | F |1. G | C :|2. Am | Dm | G |", "density: 0%", "4 3"},
	} {
		s := arrangetest.Score(t, "title: Rows\nkey: C major\nchart: |\n  "+c.chart+"\nline: {"+c.line+"}\n")
		var got []string
		for _, row := range newTab(paper.Notate(s)).systems() {
			got = append(got, fmt.Sprint(len(row)))
		}
		require.Equal(t, c.want, strings.Join(got, " "), "%s %s", c.chart, c.line)
	}
}
