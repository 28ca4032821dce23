package exercise

import (
	"strings"

	"thirdwise/theory"
)

// didYouMean returns a remedy for a name that is not among the known ones: the
// nearest of them, or all where none is near.
func didYouMean(name string, known []string, listed string) string {
	if best := nearest(name, known); best != "" {
		return "did you mean " + best + "?"
	}
	return listed + " " + strings.Join(known, ", ")
}

// nearest returns the known name with the smallest edit distance, or "" where
// more than a third of the longer of the two would have to change, and not just
// one letter.
func nearest(name string, known []string) string {
	const longest = 40
	if len(name) > longest {
		return ""
	}
	best, least := "", longest
	for _, k := range known {
		if d := theory.Edits(strings.ToLower(name), k); d < least {
			best, least = k, d
		}
	}
	if least > max(1, max(len(name), len(best))/3) {
		return ""
	}
	return best
}
