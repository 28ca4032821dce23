package score_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/score"
)

// The golden files tell each note as it is played, a row each: the tick, how long, what,
// how loud and for whom. They have been read beside the exercise: strokes go down and up
// at their speed, what is loud is what should be, and swing is where the feel has it.
func TestPerformancesReadAsTheGoldenFiles(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		play func(*score.Score) *score.Performance
	}{
		"strummed": {
			"title: Strummed\nkey: C major\nchart: '| C | G7 F |'\ntempos: [80]\nstrum: '>D - x U - >U D -'\nbass: walking\ngroove: shaker\n",
			func(s *score.Score) *score.Performance { return s.Perform(80) },
		},
		"swung": {
			"title: Swung\nkey: A minor\nfeel: swing\nchart: '| Am E7 |'\npasses: 3\ntempos: [120]\ncount-in: 2\nstrum: 'D U D U D U D U'\nbass: root-fifth\nline: {density: 100%}\n",
			func(s *score.Score) *score.Performance { return s.Perform(120) },
		},
		"swung-sixteenths": {
			"title: Sixteenths\nkey: G major\nmeter: 2/4\nfeel: swing sixteenths\nchart: '| G | D |'\npasses: 1\ntempos: [66]\nline: {density: 70%, grid: sixteenths}\nstrum: 'D U D U D U D U'\n",
			func(s *score.Score) *score.Performance { return s.Perform(66) },
		},
		"plucked": {
			"title: Plucked\nkey: D major\nmeter: 6/8\nchart: '| D | A7 |'\npasses: 1\ntempos: [40]\npick: 'R 3 2 1 2 3'\nbass: root-fifth\n",
			func(s *score.Score) *score.Performance { return s.Perform(40) },
		},
		"brushed": {
			"title: Brushed\nkey: F major\nmeter: 3/4\nchart: '| F | N.C. | C7 |'\npasses: 1\ntempos: [100]\ngroove: brushes\nstrum: 'D - D U D U'\n",
			func(s *score.Score) *score.Performance { return s.Perform(100) },
		},
		"fast": {
			"title: Fast\nkey: E minor\nchart: '| Em | B7 |'\npasses: 1\ntempos: [200]\nstrum: 'D U D U D U D U D U D U D U D U'\ngroove: shaker\n",
			func(s *score.Score) *score.Performance { return s.Perform(200) },
		},
		"looped": {
			"title: Looped\nkey: C major\nchart: '| C | G |'\npasses: 2\ntempos: [90]\nbass: walking\ngroove: shaker\n",
			func(s *score.Score) *score.Performance { return s.Loop(90) },
		},
		"climbing": {
			"title: Climbing\nkey: C major\nchart: '| F |'\ntempos: [60, 75]\nclimb: 8\nbass: walking\ngroove: brushes\n",
			func(s *score.Score) *score.Performance { return s.Climbing() },
		},
		"in-turns": {
			"title: In turns\nkey: C major\nchart: '| C | G |'\npasses: 4\ntempos: [90]\nline: {density: 0%}\nstrum: 'D - - -'\n",
			func(s *score.Score) *score.Performance { return s.Perform(90).Turns(1) },
		},
		"pickup": {
			"title: Pickup\nkey: G major\nchart: '[pickup] N.C. D7 | G | C |'\npasses: 2\ntempos: [70]\nbass: walking\nline: {push: true, density: 60%}\n",
			func(s *score.Score) *score.Performance { return s.Perform(70) },
		},
	} {
		p := c.play(arrangetest.Score(t, c.text))
		goldentest.Equal(t, filepath.Join("testdata", name+".txt"), c.text+"\n"+told(p))
	}
}

var partNames = map[score.Part]string{score.Chords: "chords", score.GuideUpper: "upper", score.GuideLower: "lower", score.Bass: "bass"}

// told lists a performance.
func told(p *score.Performance) string {
	var b strings.Builder
	for _, tempo := range p.Tempos {
		fmt.Fprintf(&b, "%6d  %d µs a quarter\n", tempo.Tick, tempo.QuarterMicros)
	}
	for _, bar := range p.Bars {
		fmt.Fprintf(&b, "%6d  bar %s, pass %d\n", bar.Tick, bar.Label, bar.Pass)
	}
	for _, stroke := range p.Click {
		fmt.Fprintf(&b, "%6d  click %d\n", stroke.Tick, stroke.Velocity)
	}
	for _, stroke := range p.Percussion {
		fmt.Fprintf(&b, "%6d  %s %d\n", stroke.Tick, stroke.Sound.Instrument(), stroke.Velocity)
	}
	for _, n := range p.Notes {
		fmt.Fprintf(&b, "%6d +%-5d %-6s %-4s string %d fret %-2d  %3d", n.Tick, n.Length, partNames[n.Part], n.Pitch, n.String, n.Fret, n.Velocity)
		if n.Yield > 0 {
			fmt.Fprintf(&b, ", yields %d", n.Yield)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%6d  end; all silent at %d\n", p.Length, p.End)
	return b.String()
}

// The golden file has charts and how their bars stand on the page, as an engraver would
// write them: repeats, endings, and what is written out.
func TestChartsAreWrittenAsTheGoldenFile(t *testing.T) {
	var b strings.Builder
	for _, chart := range []string{
		"| C | F | G | C |",
		"|: C | F :| G | C |",
		"|: C | F :| x3 | C |",
		"|: C | F :| x5",
		"|: C |1. F :|2. G | C |",
		"|: C | Am |1. F | G :|2. F G | C |",
		"|: C |1. 2. F :|3. G | C |",
		"|: C |1. F :|2. G :|3. Am | C |",
		"[A] |: C :| [B] |: Am | Dm :| [A] |: C :|",
		"[pickup] G7 |: C | Am | F | G7 :| C |",
		"|: C |1. N.C. :|2. G |",
		"|: C F | F C | Dm | G |1. C | C :|2. Am | Am | F | C |",
	} {
		for _, density := range []int{0, 60} {
			for _, bass := range []string{"none", "walking"} {
				s := arrangetest.Score(t, fmt.Sprintf("title: Written\nkey: C major\nchart: '%s'\npasses: 2\nbass: %s\nline: {density: %d%%}\n", chart, bass, density))
				fmt.Fprintf(&b, "%s, density %d, bass %s\n    ", chart, density, bass)
				for _, bar := range s.WrittenBars() {
					if bar.RepeatOpens {
						b.WriteString("|: ")
					}
					if bar.Ending != nil && bar.Ending.Begins {
						fmt.Fprintf(&b, "[%s ", bar.Ending)
					}
					fmt.Fprint(&b, bar.Number, "=", strings.ReplaceAll(strings.Trim(fmt.Sprint(bar.Bars), "[]"), " ", "+"))
					if bar.Again {
						b.WriteString("'")
					}
					if bar.Ending != nil && bar.Ending.Ends {
						b.WriteString("]")
					}
					if bar.RepeatTimes > 0 {
						fmt.Fprintf(&b, " :|x%d", bar.RepeatTimes)
					}
					b.WriteString(" ")
				}
				b.WriteString("\n")
			}
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "written.txt"), strings.ReplaceAll(b.String(), " \n", "\n"))
}
