package tab

import (
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/theory/neck"
)

// head returns the lines above the tab.
func (t *tab) head() []string {
	s := t.score
	lines := paper.TextLines(s.Title)
	for _, text := range []string{s.Handout.Subtitle, s.Handout.By} {
		if text != "" {
			lines = append(lines, paper.TextLines(text)...)
		}
	}
	if s.Handout.Student {
		lines = append(lines, "", "Name "+strings.Repeat("_", 40)+"  Date "+strings.Repeat("_", 15))
	}
	lines = append(lines, "")
	for _, text := range []string{t.music(), t.guitar()} {
		lines = append(lines, paper.TextLines(text)...)
	}
	lines = append(lines, t.strum()...)
	if t.counts("t") {
		lines = append(lines, "A beat of triplets is counted 1 t l: one, trip, let.")
	}
	if t.rests() {
		lines = append(lines, "Where the counts are in parentheses, the line rests.")
	}
	for _, paragraph := range s.Handout.Note {
		lines = append(append(lines, ""), paper.TextLines(paragraph)...)
	}
	return lines
}

// music says what is played and how fast.
func (t *tab) music() string {
	s := t.score
	var tempos []string
	for _, tempo := range s.Tempos {
		tempos = append(tempos, fmt.Sprint(tempo))
	}
	climb := ""
	if s.Climb > 0 {
		climb = fmt.Sprintf(", rising by %d", s.Climb)
	}
	return fmt.Sprintf("%s, %s, %s; %s beats per minute%s; %s; %s.",
		s.Key, s.Meter, s.Feel, strings.Join(tempos, ", "), climb, s.Movement(), paper.Passes(s.Passes))
}

// guitar says how the guitar is tuned and where the hand is.
func (t *tab) guitar() string {
	s := t.score
	capo := "no capo"
	if s.Neck.Capo > 0 {
		capo = fmt.Sprintf("capo at fret %d, frets counted from it, sounding chords in parentheses", s.Neck.Capo)
	}
	return fmt.Sprintf("Tuning %s, %s; %s.", s.Neck.Tuning, capo, positionFrets(s.Position))
}

// counts reports whether a count stands below any column.
func (t *tab) counts(count string) bool {
	for _, b := range t.bars {
		if slices.ContainsFunc(b.ticks, func(tick int) bool { return paper.Count(t.score.Meter, tick) == count }) {
			return true
		}
	}
	return false
}

// rests reports whether the line rests anywhere.
func (t *tab) rests() bool {
	for _, m := range t.Measures {
		if slices.ContainsFunc(m.Events, func(e paper.Event) bool { return e.Rest() }) {
			return true
		}
	}
	return false
}

// positionFrets names a position and the frets of one that has a number.
func positionFrets(p neck.Position) string {
	fret, ok := p.Fret()
	if !ok {
		return p.Name()
	}
	return fmt.Sprintf("%s, frets %d to %d", p.Name(), fret, fret+neck.Span)
}

// foot returns the lines below the tab.
func (t *tab) foot() []string {
	var lines []string
	if line := t.score.Line; len(line) > 0 && line[len(line)-1].LeadsBack {
		lines = append(lines, paper.TextLines("The last time through, hold the last chord's first third instead of leading back.")...)
	}
	return append(lines, paper.TextLines(paper.Caution)...)
}
