package arrange

import "strings"

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
		if d := editDistance(strings.ToLower(name), k); d < least {
			best, least = k, d
		}
	}
	if least > max(1, max(len(name), len(best))/3) {
		return ""
	}
	return best
}

// editDistance counts the letters to insert, to delete or to replace, and the
// neighbours to swap, that turn a into b (optimal string alignment).
func editDistance(a, b string) int {
	s, t := []rune(a), []rune(b)
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(s)][len(t)]
}
