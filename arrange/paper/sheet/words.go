package sheet

import (
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// typeset returns a score whose words are as they are printed.
func typeset(s *score.Score) *score.Score {
	printed := *s
	printed.Title, printed.Handout.Subtitle, printed.Handout.By = drawing.Typeset(s.Title), drawing.Typeset(s.Handout.Subtitle), drawing.Typeset(s.Handout.By)
	printed.Handout.Note = make([]string, len(s.Handout.Note))
	for i, paragraph := range s.Handout.Note {
		printed.Handout.Note[i] = drawing.Typeset(paragraph)
	}
	return &printed
}

// about says what a sheet holds, for who cannot see it.
func about(n *paper.Notation, k kind) string {
	var symbols []string
	for _, m := range n.Measures {
		for _, span := range m.Chords {
			if symbol := span.Symbol(); !slices.Contains(symbols, symbol) {
				symbols = append(symbols, symbol)
			}
		}
	}
	s := n.Score
	what := [...]string{
		exercise: "A line of thirds as notation and tablature", chordChart: "A chord chart",
		fillIn: "Chords with empty staves, to write the line",
	}[k]
	return fmt.Sprintf("%s: %s, %s, %d bars. Chords: %s.", what, s.Key, s.Meter, len(n.Measures), strings.Join(symbols, ", "))
}

// rowInWords says what stands in a row of measures, for who hears the page: sections,
// repeats, and for each bar its chords and the thirds of the line.
func rowInWords(measures []paper.Measure) string {
	var said []string
	for _, m := range measures {
		words := "Bar " + m.Label()
		if m.Number == 0 {
			words = "Pickup"
		}
		if m.Section != "" {
			words = m.Section + ". " + words
		}
		if m.RepeatOpens {
			words += ", a repeat begins"
		}
		if m.Ending != nil && m.Ending.Begins {
			words += ", ending " + m.Ending.String()
		}
		var chords, thirds []string
		for _, span := range m.Chords {
			chords = append(chords, span.Label())
		}
		for _, e := range m.Events {
			if !e.Rest() && !e.TiedFrom {
				thirds = append(thirds, e.Third.Notes.String())
			}
		}
		words += ", " + strings.Join(chords, " ")
		if len(thirds) > 0 {
			words += ": " + strings.Join(thirds, ", ")
		}
		if m.RepeatTimes > 0 {
			words += fmt.Sprintf("; repeat, %d times in all", m.RepeatTimes)
		}
		said = append(said, strings.TrimSuffix(words, ".")+".") // N.C. has its own
	}
	return strings.Join(said, " ")
}

// gripsInWords says the grips of the chart, the lowest string first.
func (l *layout) gripsInWords() string {
	var said []string
	for _, bar := range l.score.Bars {
		for _, span := range bar.Chords {
			words := span.Label() + " " + span.Grip.String()
			if len(span.Grip) > 0 && !slices.Contains(said, words) {
				said = append(said, words)
			}
		}
	}
	return "Grips, the lowest string first: " + strings.Join(said, ", ") + "."
}
