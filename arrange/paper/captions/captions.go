package captions

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/tab"
	"thirdwise/arrange/score"
)

// WriteChords writes a cue for each chord, with its symbol and bar. The errors are
// those of w.
func WriteChords(w io.Writer, n *paper.Notation, p *score.Performance) error {
	s, c := n.Score, newWriter(w, p, "")
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

// WriteTab writes a cue for each bar, with its tab. The errors are those of w.
func WriteTab(w io.Writer, n *paper.Notation, p *score.Performance) error {
	tabs := tab.Bars(n)
	c := newWriter(w, p, tabStyle)
	c.leadIns(n.Score)
	for _, played := range p.Bars {
		c.cue(played.Tick, played.Tick+n.Score.Meter.Bar(), tabs[played.Index])
	}
	return c.Flush()
}

// A writer writes the cues of one WebVTT file (W3C WebVTT: The Web Video Text
// Tracks Format).
type writer struct {
	*bufio.Writer
	performance *score.Performance
}

func newWriter(w io.Writer, p *score.Performance, style string) writer {
	c := writer{bufio.NewWriter(w), p}
	c.WriteString("WEBVTT\n\n" + style)
	return c
}

// leadIns writes a cue for each stretch of click before the chart is played.
func (c writer) leadIns(s *score.Score) {
	var end int // of what was played before
	for _, bar := range c.performance.Bars {
		if bar.Tick > end {
			c.cue(end, bar.Tick, "count-in")
		}
		end = bar.Tick + s.Meter.Bar()
	}
}

// escapes are the signs that would be markup in a cue.
var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// cue writes one cue, shown between two ticks of the performance.
func (c writer) cue(from, to int, text string) {
	fmt.Fprintf(c, "%s --> %s\n%s\n\n", c.timestamp(from), c.timestamp(to), escapes.Replace(text))
}

// timestamp writes a tick as hours, minutes, seconds and thousandths.
func (c writer) timestamp(tick int) string {
	ms := c.performance.Sample(tick, 1000)
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3_600_000, ms/60_000%60, ms/1000%60, ms%1000)
}
