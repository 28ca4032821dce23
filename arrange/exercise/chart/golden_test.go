package chart_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// read reads a chart as an exercise has it, in C major.
func read(t *testing.T, of, text string) ([]chart.Bar, source.Findings) {
	m := meter.Meter{}
	if of != "" {
		var err error
		m, err = meter.Parse(of)
		require.NoError(t, err)
	}
	file := source.Read("song.yaml", []byte("chart: |\n  "+strings.ReplaceAll(text, "\n", "\n  ")+"\n"))
	settings, ok := file.Settings()
	require.True(t, ok)
	bars := chart.Read(settings[0].Value.Text, theory.Key{}, m)
	return bars, file.Findings()
}

// The golden file has charts, what they are read as (each bar's chords with their beats
// or, where not in quarters, ticks, then the order in which bars are played), and what
// the teacher is told. It has been read as a teacher would.
func TestChartsAreReadAsTheGoldenFile(t *testing.T) {
	var b strings.Builder
	for _, c := range []struct{ meter, charts string }{
		{"4/4", `
			| C | F G | C F G C | C / / G |
			|: C | F :| G |
			|: C | F :| x3
			|: C | F :| 3x |
			|: C | F :| (x4) | G |
			|: C | F :| x 2 |
			|: C :| x1 |
			|: C :| x99 |
			|: C :| x100 |
			|: C :| x99999999999999999999 |
			| C | x3 |
			| C :| x3 |
			|: C | x3 :|
			|: C |1. F :| x3 |2. G |
			|: C |1. F :|2. G | C |
			|: C |1. F | G :|2. Am | Bm | Dm | Em |
			|: C |1.-3. F :|4. G |
			|: C |1. F :|2. G :|3. Am |
			|: C |1. F :|2. G :| C |
			|: C |1. F :| C |
			|: C |1. F | 2. G |
			|: C |1. :|2. G |
			|: C |1. F :|2.
			|: C |2. F :|3. G |
			|:1. F :|2. G |
			| C |1. F :|2. G |
			|: C 1. F :|2. G |
			|: C |1. F :|2. G :| [B] |: C :|
			|: C |1. F :|2. G | [B] C |
			|: C |1. [B] F :|2. [C] G |
			| C || G |
			| C | | G |
			|| C ||
			| C :||: G :|
			|: C | :|
			|: C | |
			|: :|
			|: |: C :|
			|: C |: G :|
			|: C
			| C | G
			| C :|
			|: C | G :| twice
			|: C | G :| thrice
			|: C | G :| three times
			|: C | G :| 4 mal
			|: C | G :| 2
			|: C | G :| 1 times
			|: C | G :| 3 bananas
			|: C | G :| 3 times more
			|: C | G :| times
			| C | G | three times
			three times
			[A] C | G |
			[A] | C | [B] | G |
			[A] [B] | C |
			[A] | C | [ ] | G |
			| C [B] G |
			| C | [B]
			[pickup] G | C |
			[Upbeat] G | C |
			[pickup] |: G | C :|
			|: [pickup] G | C :|
			| C | [pickup] G |
			[pickup] G |
			| C | % | % % |
			| % | C |
			| C % | G |
			| / C |
			| C / G / |
			| C | / |
			|: C | 1 F | G :|
			|: C | 1 :|
			| 1 | 4 5 |
			| C F G |
			| C F G Am Dm |
			| C F G Am Dm Em Bdim |
			| C / / / / / / G |
			| Do | Re | Sol7 | mi |
			| C | Sol |
			| la m | RE7 |
			| Do | mi7 |
			| dm | g7 | am | h7 | H | hello |
			| CG | AmF | C7G7 | CA | DmGB | CHX | XC |
			| C. | Am! | G'' | C* | D.? | X. | C.. |
			| "C" | (C) | {A} | (A} | “Am” | «G» |
			| -3-5 | -2h3 | --- | … | -C | // | %% |
			| m7 | maj7 | dur | moll | Major |
			| pause | tacet | N.C. | NC | n/c | N.C |
			| x32010 | 320003 | 3/4 | C/ | 1) | 2nd | 4x | 8 | iv7 | bVII | #IV° |
			| Сm | Аm | Ｇ |
			| Cmaj7#11b9sus4add13no5 |
			| Cmaj7#11b9sus4add13no5xx |
			| C, | G, Am |
			| C,G | C–G | C-Am7 | C→G | C → G | C , G | C-X |
			| x | C x | -7 | ^7 | C%  | C% D | 𝄎 | 𝄐 | ~ |
			| ^C | >C | <C> | C_ | C♮ | F𝄐 |
			| C7(no5) | Comit5 | C no5 | Xno5 | (G7) | (C G7) | (D major) | (x) |
			| C7(b9 13) | C7(b9, b13) | C(add9 | C) | C(b9 13
			| V7/V/V | V7b9/V/F# | V65 | V4/3 | I64 | ii42 | bII64 | V66 |
			| 6- | 1/3 | 57 | 5m7b5 | 2x2m | 5/8 | 1/b3 | 3q |
			𝄆 C | F 𝄇
			| C | |: G :| | F |
			| C | | F |
			| C | || F |
			[: C | F :]
			[: C | F :] x3
			[1 C | G |
			[2. C | G |
			[ | C |
			[A | C |
			|: C :|  x3 |
			|: C :| x  3 |
			|: C :| ( x 3 ) |
			|: C :| 3 x |
			|: C |1.-10. F :|11. G |
			|: C |1.–3. F :|4. G |
			|: C |1,2. F :|3. G |
			|: C |1. 2. F :|3. G |
			| 9 | 0 | 9th | 0m | 9m | 1/3 |
			|: C :| :|
			|: C | F :| | :|
			| (C | F) | {G | (verse |
			C
			. C .
			! C F !
			! C F ! G
			. . .
			C C C
			C Am F G C Am F G
			C Am F G C Am F G C
			C Am F G
			C, Am - F, G
			C / Am /
			C . F . G
			. C . F .
			! C ! F ! G !
			! C ! F ? G !
			C Am what
			C Am F G C Am F G C Am F G C Am
			C x F x G x Am`},
		{"3/4", `| C G | C F G | C / G | C F G Am Dm Em |
			| C D E F |`},
		{"6/8", `| C G | C F G | C / / G / / | C / G |
			| C F G Am |
			| C D E F G A |`},
		{"12/8", `| C | C G | C F G Am | C F G |`},
		{"5/4", `| C G | C F G | C / / G / | C F G Am Dm |
			| C F G Am |
			| C F / G |`},
		{"7/8", `| C G | C F G | C / / G / / / |
			| C F G Am |
			| C F G Am Dm |`},
		{"2/2", `| C G | C F G Am | C F G |`},
		{"", `| C F G Am Dm | C |`},
	} {
		for text := range strings.SplitSeq(strings.TrimSpace(c.charts), "\n") {
			text = strings.TrimSpace(text)
			bars, findings := read(t, c.meter, text)
			fmt.Fprintf(&b, "%s  %s\n", c.meter, text)
			if len(findings.Of(source.Mistake)) == 0 {
				b.WriteString("    " + told(bars) + "\n")
			}
			for _, f := range findings {
				fmt.Fprintf(&b, "    %d:%d %s; %s\n", f.Line, f.Column, f.Message, f.Remedy)
			}
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "charts.txt"), b.String())
}

// told tells what a chart was read as.
func told(bars []chart.Bar) string {
	var b strings.Builder
	for _, bar := range bars {
		if bar.RepeatOpens {
			b.WriteString("|: ")
		}
		if bar.Section != "" {
			b.WriteString("[" + bar.Section + "] ")
		}
		if bar.Pickup {
			b.WriteString("pickup ")
		}
		if bar.Ending != nil {
			fmt.Fprint(&b, bar.Ending, " ")
		}
		for _, c := range bar.Chords {
			name := c.Chord.String()
			if c.None {
				name = "N.C."
			}
			fmt.Fprintf(&b, "%s%s@%d+%d ", name, c.Numeral, c.Tick, c.Length)
		}
		if bar.RepeatTimes > 0 {
			fmt.Fprintf(&b, "x%d ", bar.RepeatTimes)
		}
		b.WriteString("| ")
	}
	return b.String() + fmt.Sprint(chart.Unfold(bars))
}

// A chart has up to 4096 bars, repeats written out, whatever makes them many.
func TestAChartHasUpToSoManyBars(t *testing.T) {
	lines := func(bars int) string { return strings.Repeat("\nC |", bars) }
	for _, c := range []struct {
		name  string
		chart func(bars int) string // so many bars, written out
	}{
		{"written", func(n int) string { return "|" + lines(n) }},
		{"repeated twice", func(n int) string { return "| C |:" + lines((n-1)/2-1) + " C :|" + lines((n-1)%2) }},
		{"repeated eight times", func(n int) string { return "|:" + lines(n/8-1) + " C :| x8 |" + lines(n%8) }},
		{"with endings", func(n int) string { return "|:" + lines(10) + "1.-3. F | G :|4. F | F |" + lines(n-4*10-3*2-2) }},
		{"with long endings", func(n int) string { return "|: C |1. F |" + lines((n-4)/2) + " G :|2. F |" + lines(n-5-(n-4)/2) }},
		{"what is repeated before endings is long", func(n int) string { return "| C |:" + lines((n-3)/2) + "1. G :|2. F |" + lines((n-3)%2) }},
	} {
		for over := range 2 {
			bars, findings := read(t, "4/4", c.chart(chart.MaxBars+over))
			assert.Equal(t, chart.MaxBars+over, len(chart.Unfold(bars)), c.name)
			if assert.Len(t, findings, over, c.name); over > 0 {
				assert.Equal(t, "the chart passes 4096 bars here, repeats written out", findings[0].Message, c.name)
			}
		}
	}
}

func TestASectionsNameHasUpToFortyCharacters(t *testing.T) {
	for length, findings := range map[int]int{40: 0, 41: 1} {
		_, found := read(t, "4/4", "["+strings.Repeat("é", length)+"] | C |")
		assert.Len(t, found, findings)
	}
}
