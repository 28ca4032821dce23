package paper

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"thirdwise/arrange/score"
)

// WriteChordCaptions writes WebVTT captions for the audio of a performance: a
// cue for each chord, with its symbol and bar. The errors are those of w.
func WriteChordCaptions(w io.Writer, s *score.Score, p *score.Performance) error {
	c := newCaptions(w, p, "")
	c.leadIns(s)
	for _, played := range p.Bars {
		bar := s.Bars[played.Index]
		for _, span := range bar.Chords {
			from := played.Tick + span.Tick - bar.Tick
			c.cue(from, from+span.Length, fmt.Sprintf("%s\nbar %s", span.Symbol(), played.Label))
		}
	}
	return c.Flush()
}

// tabStyle asks for a font in which the tab's rows stand below one another.
const tabStyle = "STYLE\n::cue {\n  font-family: monospace;\n  white-space: pre;\n  text-align: left;\n}\n\n"

// WriteTabCaptions writes WebVTT captions for the audio of a performance: a cue
// for each bar, with its tab. The errors are those of w.
func WriteTabCaptions(w io.Writer, s *score.Score, p *score.Performance) error {
	t := newTab(Notate(s))
	tabs := make([]string, len(s.Bars))
	for _, b := range t.bars {
		for _, bar := range b.Bars {
			tabs[bar] = t.alone(b)
		}
	}
	c := newCaptions(w, p, tabStyle)
	c.leadIns(s)
	for _, played := range p.Bars {
		c.cue(played.Tick, played.Tick+s.Meter.Bar(), tabs[played.Index])
	}
	return c.Flush()
}

// alone returns the rows of one bar, the chord symbols first and the counts
// last.
func (t *tab) alone(b tabBar) string {
	plain := *b.Measure
	plain.RepeatOpens, plain.RepeatTimes = false, 0
	b.Measure = &plain
	rows := t.rows([]tabBar{b})[1:]
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " ")
	}
	return strings.Join(rows, "\n")
}

// captions writes the cues of one WebVTT file (W3C WebVTT: The Web Video Text
// Tracks Format).
type captions struct {
	*bufio.Writer
	performance *score.Performance
}

func newCaptions(w io.Writer, p *score.Performance, style string) captions {
	c := captions{bufio.NewWriter(w), p}
	c.WriteString("WEBVTT\n\n" + style)
	return c
}

// leadIns writes a cue for each stretch of click before the chart is played.
func (c captions) leadIns(s *score.Score) {
	end := 0 // of what was played before
	for _, bar := range c.performance.Bars {
		if bar.Tick > end {
			c.cue(end, bar.Tick, "count-in")
		}
		end = bar.Tick + s.Meter.Bar()
	}
}

// cue writes one cue, shown between two ticks of the performance.
func (c captions) cue(from, to int, text string) {
	text = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(text)
	fmt.Fprintf(c, "%s --> %s\n%s\n\n", c.timestamp(from), c.timestamp(to), text)
}

// timestamp writes a tick as hours, minutes, seconds and thousandths.
func (c captions) timestamp(tick int) string {
	ms := c.performance.Sample(tick, 1000)
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3_600_000, ms/60_000%60, ms/1000%60, ms%1000)
}
