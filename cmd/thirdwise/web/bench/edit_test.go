package bench_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/cmd/thirdwise/web/bench"
	"thirdwise/cmd/thirdwise/web/page"
)

// A draft is an exercise that is being written.
type draft struct {
	bars     []string
	settings map[string]string // lines of the file
}

func (d draft) text() string {
	var text strings.Builder
	text.WriteString("chart: |\n")
	for row := range slices.Chunk(d.bars, 4) {
		fmt.Fprintf(&text, "  | %s |\n", strings.Join(row, " | "))
	}
	for _, name := range slices.Sorted(maps.Keys(d.settings)) {
		text.WriteString(d.settings[name])
	}
	return text.String()
}

// edit changes one thing, as a key or a click does.
func (d *draft) edit(t *rapid.T) {
	at := rapid.IntRange(0, len(d.bars)-1).Draw(t, "bar")
	bar := rapid.SampledFrom([]string{
		"C", "Am", "Dm", "G7", "F", "Em", "E7", "C C", "Dm G", "Fm", "D7", "Bdim", "%", "N.C.", "6", "2 5", "Cmaj7 / / A7", "Em7b5 A7",
	})
	settings := map[string]*rapid.Generator[string]{
		"title": rapid.StringMatching("title: [A-Z][a-z]{0,12}\n"),
		"key":   rapid.SampledFrom([]string{"key: C major\n", "key: A minor\n", "key: C\n"}),
		"line":  rapid.StringMatching("line: \\{(density: (20|50|90)%, )?(push: on, )?(low: D3, )?variant: [12]\\}\n|line:\n  own:\n    2: (C4|E4|x) - - \\. x x x x\n"),
		"neck":  rapid.StringMatching("guitar: \\{position: (open|5|free)\\}\n|guitar: \\{capo: [12]\\}\n"),
		"bass":  rapid.SampledFrom([]string{"", "bass: walking\n", "bass: root-fifth\n"}),
		"other": rapid.SampledFrom([]string{"", "passes: 1\n", "passes: 3\n", "tempos: [90]\n", "strum: D U D U\n", "feel: swing\n"}),
	}
	switch what := rapid.SampledFrom([]string{"replace", "replace", "insert", "remove", "repeat", "setting"}).Draw(t, "what"); what {
	case "replace":
		d.bars[at] = bar.Draw(t, "chords")
	case "insert":
		d.bars = slices.Insert(d.bars, at, bar.Draw(t, "chords"))
	case "remove":
		if len(d.bars) > 1 {
			d.bars = slices.Delete(d.bars, at, at+1)
		}
	case "repeat":
		d.bars[at] = strings.TrimSpace(rapid.SampledFrom([]string{":", ""}).Draw(t, "begins") + " C " + rapid.SampledFrom([]string{":", ": x3", ""}).Draw(t, "ends"))
	case "setting":
		name := rapid.SampledFrom(slices.Sorted(maps.Keys(settings))).Draw(t, "setting")
		d.settings[name] = settings[name].Draw(t, "value")
	}
}

// Whatever was on the bench before, and whatever rows are not drawn again: what a page
// shows and plays is what a new bench makes of the text.
func TestEditsShowWhatANewBenchShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draft{settings: map[string]string{"title": "title: Door\n", "key": "key: C major\n"}}
		for range rapid.IntRange(1, 3).Draw(t, "phrases") {
			d.bars = append(d.bars, "C", "Am", "Dm", "G7")
		}
		worn := new(bench.Bench)
		var shown []page.Row
		number, redrawn := 0, 0
		for range rapid.IntRange(2, 6).Draw(t, "edits") {
			d.edit(t)
			staves := rapid.SampledFrom([]string{"both", "both", "both", "tab"}).Draw(t, "staves")
			fresh := new(bench.Bench)
			want, wantErr := fresh.Arrange("door.yaml", d.text(), 60, staves, 0)
			got, gotErr := worn.Arrange("door.yaml", d.text(), 60, staves, number)
			require.Equal(t, wantErr, gotErr)
			require.Equal(t, want.Findings, got.Findings)
			require.Equal(t, want.Strip == nil, got.Strip == nil)
			if got.Strip == nil {
				continue
			}
			rows := make([]page.Row, len(got.Strip.Rows))
			for i, row := range got.Strip.Rows {
				rows[i] = row
				if row.SVG == "" {
					rows[i].SVG = shown[row.Shown].SVG
				} else {
					redrawn++
				}
				require.Equal(t, want.Strip.Rows[i].SVG, rows[i].SVG, "row %d of\n%s", i+1, d.text())
				require.Equal(t, want.Strip.Rows[i].Third, rows[i].Third)
			}
			require.Equal(t, want.Strip.Bars, got.Strip.Bars)
			shown, number = rows, got.Number

			wantPlayed, err := fresh.Played(0)
			require.NoError(t, err)
			gotPlayed, err := worn.Played(0)
			require.NoError(t, err)
			require.Equal(t, wantPlayed, gotPlayed)
		}
	})
}

// A changed chord has few rows drawn again, and those that stay keep their thirds'
// numbers apart.
func TestRowsThatStayAreNotDrawnAgain(t *testing.T) {
	text := long(8)
	b := new(bench.Bench)
	before, err := b.Arrange("", text, 60, "both", 0)
	require.NoError(t, err)
	require.Greater(t, len(before.Strip.Rows), 4)
	count := func(after bench.Arranged) (drawn int) {
		for _, row := range after.Strip.Rows {
			if row.SVG != "" {
				drawn++
			}
		}
		return drawn
	}
	require.Equal(t, len(before.Strip.Rows), count(before))
	same, err := b.Arrange("", text+"# a remark", 60, "both", before.Number)
	require.NoError(t, err)
	require.Zero(t, count(same))
	changed, err := b.Arrange("", strings.Replace(text, "| C | Am |", "| C | Am D7 |", 1), 60, "both", same.Number)
	require.NoError(t, err)
	require.NotZero(t, count(changed))
	require.LessOrEqual(t, count(changed), 2)
	other, err := b.Arrange("", text, 60, "both", same.Number) // which is not shown any more
	require.NoError(t, err)
	require.Equal(t, len(other.Strip.Rows), count(other))
}

// long is an exercise of so many bars in fours.
func long(fours int) string {
	return "title: Long\nkey: C major\nchart: |\n" + strings.Repeat("  | C | Am | Dm | G7 |\n  | Em | F | Dm G | C |\n", fours/2)
}

// What the engine does from key to key, natively: a chord of 32 bars is changed, and
// changed back.
func BenchmarkKeystroke(b *testing.B) {
	texts := [2]string{long(8), strings.Replace(long(8), "| Em | F |", "| Em | F7 |", 1)}
	worn := new(bench.Bench)
	number := 0
	for n := 0; b.Loop(); n++ {
		made, err := worn.Arrange("", texts[n%2], 96, "both", number)
		if err != nil {
			b.Fatal(err)
		}
		number = made.Number
	}
}
