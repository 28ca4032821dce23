package tab

import (
	"slices"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
)

// strum writes what the right hand does: the bars in turn, the one that fills the end of
// a phrase, and what the signs are.
func (t *tab) strum() []string {
	s := t.score
	if len(s.Patterns) == 0 {
		return nil
	}
	what := "Strum "
	if slices.ContainsFunc(s.Patterns, score.Pattern.Picked) {
		what = "Pick "
	}
	var parts []string // between which a line may break
	for i, p := range s.Patterns {
		bar := p.Spaced()
		if i == 0 {
			bar = what + bar
		}
		if i < len(s.Patterns)-1 {
			bar += " |"
		}
		parts = append(parts, bar)
	}
	if s.Fill != nil {
		parts[len(parts)-1] += ";"
		parts = append(parts, "at the end of a phrase "+s.Fill.Spaced())
	}
	parts = append(parts, "("+t.strumSigns()+").")
	return joined(parts)
}

// strumSigns says what those signs are that are used.
func (t *tab) strumSigns() string {
	strokes := slices.Concat(append(slices.Clone(t.score.Patterns), t.score.Fill)...)
	uses := func(is func(score.Stroke) bool) bool { return slices.ContainsFunc(strokes, is) }
	sign := func(sign score.StrumSign) func(score.Stroke) bool {
		return func(s score.Stroke) bool { return s.Sign == sign }
	}
	var signs []string
	for _, row := range []struct {
		used bool
		text string
	}{
		{uses(sign(score.Down)), "D down"},
		{uses(sign(score.Up)), "U up"},
		{uses(sign(score.Damped)), "x damped"},
		{uses(func(s score.Stroke) bool { return slices.Contains(s.Strings, score.Root) }), "R the bass string"},
		{uses(func(s score.Stroke) bool { return slices.Max(append([]int{score.Root}, s.Strings...)) > score.Root }), "a number that string"},
		{uses(func(s score.Stroke) bool { return len(s.Strings) > 1 }), "(21) together"},
		{uses(func(s score.Stroke) bool { return s.Accent }), "> accent"},
		{uses(sign(score.Ring)), "- let ring"},
	} {
		if row.used {
			signs = append(signs, row.text)
		}
	}
	return strings.Join(signs, ", ")
}

// joined puts parts of a text into lines, and breaks those only that have no room in one.
func joined(parts []string) []string {
	var lines []string
	for _, part := range parts {
		last := len(lines) - 1
		if last >= 0 && paper.Columns(paper.TextWidth)(lines[last]+" "+part) {
			lines[last] += " " + part
			continue
		}
		lines = append(lines, paper.TextLines(part)...)
	}
	return lines
}
