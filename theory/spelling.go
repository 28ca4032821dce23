package theory

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// folded holds how each quality is spelled, in folded form: as it is printed, and
// otherwise.
var folded = func() (all [len(qualities)]struct{ printed, others []string }) {
	for q, row := range qualities {
		all[q].printed = []string{foldSpelling(row.symbol)}
		for _, s := range row.spellings {
			all[q].others = append(all[q].others, foldSpelling(s))
		}
	}
	return all
}()

// qualityOf finds the quality that a folded spelling stands for.
var qualityOf = func() map[string]Quality {
	table := map[string]Quality{}
	for q, spelled := range folded {
		for _, s := range slices.Concat(spelled.printed, spelled.others) {
			table[s] = Quality(q)
		}
	}
	return table
}()

// ParseQuality reads what stands behind the root of a chord symbol.
func ParseQuality(s string) (Quality, bool) {
	q, ok := qualityOf[foldSpelling(s)]
	return q, ok
}

// openings lists how lead sheets begin a quality, and the beginning that the
// table of qualities has for it (common practice). The first that fits counts,
// so longer ones stand before the shorter that they begin with.
var openings = [...]struct{ spelled, folded string }{
	{"madd", "madd"}, // minor with an added tone, not "ma" for major
	{"Madd", "majadd"},
	{"major", "maj"},
	{"Major", "maj"},
	{"maj", "maj"},
	{"Maj", "maj"},
	{"ma", "maj"},
	{"Ma", "maj"},
	{"MA", "maj"},
	{"Δ7", "maj7"},
	{"Δ9", "maj9"},
	{"Δ13", "maj13"},
	{"Δ", "maj7"},
	{"j7", "maj7"},
	{"minor", "m"},
	{"Minor", "m"},
	{"min", "m"},
	{"Min", "m"},
	{"mi", "m"},
	{"Mi", "m"},
	{"MI", "m"},
	{"m", "m"},
	{"-", "m"},
	{"M", "maj"},
	{"dim", "dim"},
	{"Dim", "dim"},
	{"°", "dim"},
	{"o", "dim"},
	{"aug", "aug"},
	{"Aug", "aug"},
	{"+", "aug"},
}

var (
	// signs makes one sign of those that look or mean the same.
	signs = strings.NewReplacer("♯", "#", "♭", "b", "△", "Δ", "∆", "Δ", "^", "Δ", "º", "°", "Ø", "ø", "−", "-", "–", "-")

	parenthesis  = regexp.MustCompile(`\(([^()]*)\)`)
	sharpBySign  = regexp.MustCompile(`\+(\d)`)
	flatByHyphen = regexp.MustCompile(`-(\d)`)
)

// foldSpelling brings the spellings of a quality that differ in signs, in
// parentheses or in how they write major and minor to one form: m7b5 for -7♭5,
// min7(b5) and mi7-5.
func foldSpelling(s string) string {
	s = signs.Replace(s)
	s = parenthesis.ReplaceAllStringFunc(s, func(group string) string {
		inside := strings.NewReplacer(",", "", " ", "").Replace(group[1 : len(group)-1])
		if inside != "" && inside[0] >= '0' && inside[0] <= '9' {
			return "add" + inside
		}
		return inside
	})
	s = foldOpening(s)
	s = sharpBySign.ReplaceAllString(s, "#$1")
	return flatByHyphen.ReplaceAllString(s, "b$1")
}

// foldOpening folds how the quality begins. Behind minor, diminished and augmented
// may stand a major seventh, which has openings of its own.
func foldOpening(s string) string {
	for _, o := range openings {
		rest, ok := strings.CutPrefix(s, o.spelled)
		if !ok {
			continue
		}
		if o.folded == "madd" || strings.HasPrefix(o.folded, "maj") {
			return o.folded + rest
		}
		if seventh := foldOpening(rest); strings.HasPrefix(seventh, "maj") {
			return o.folded + seventh
		}
		return o.folded + rest
	}
	return s
}

// longestSpelling bounds what is compared with the known spellings, in bytes.
// Nothing longer is a slip of the pen.
const longestSpelling = 16

// NearestQualities returns the qualities whose spellings take the fewest edits to reach
// from what was found; printed symbols come before other spellings that are as near. There
// are none where none is near: where more than half would have to change, or the first of
// two characters; nor where too many are as near.
func NearestQualities(found string) []Quality {
	const most = 4
	if len(found) > longestSpelling {
		return nil
	}
	found = foldSpelling(found)
	nearest, edits := nearestTo(found, func(q Quality) []string { return folded[q].printed })
	if others, fewer := nearestTo(found, func(q Quality) []string { return folded[q].others }); fewer < edits {
		nearest = others
	}
	if len(nearest) > most {
		return nil
	}
	return nearest
}

// nearestTo returns the qualities of which one of some folded spellings is nearest to what
// was found, and how many edits lie between. A sign too many, and a character typed twice, are
// less than one.
func nearestTo(found string, spellings func(Quality) []string) (nearest []Quality, fewest int) {
	near := utf8.RuneCountInString(found) / 2
	first, _ := utf8.DecodeRuneInString(found)
	letters := typeable(found)
	fewest = near + 1
	for _, q := range Qualities() {
		for _, s := range spellings(q) {
			if s == "" || near == 1 && !strings.HasPrefix(s, string(first)) {
				continue
			}
			edits := Edits(found, s)
			if typedOnce(letters) == typedOnce(s) && len(letters) >= len(s) {
				edits = 0
			}
			if edits < fewest {
				nearest, fewest = nil, edits
			}
			if edits == fewest && edits <= near && !slices.Contains(nearest, q) {
				nearest = append(nearest, q)
			}
		}
	}
	return nearest, fewest
}

// typeable returns a spelling without the signs that stand in none.
func typeable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("#+/°", r) {
			return -1
		}
		return r
	}, s)
}

// typedOnce returns a spelling with one character for each run of the same.
func typedOnce(s string) string { return string(slices.Compact([]rune(s))) }

// Edits counts the slips of the pen that lie between two spellings: characters to
// insert, remove, replace or swap with the next one (optimal string alignment). A digit
// takes no letter's place, nor a letter a digit's.
func Edits(one, other string) int {
	a, b := []rune(one), []rune(other)
	// distance[i][j] is what lies between the first i of a and the first j of b.
	distance := make([][]int, len(a)+1)
	for i := range distance {
		distance[i] = make([]int, len(b)+1)
		distance[i][0] = i
	}
	for j := range distance[0] {
		distance[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			fewest := min(distance[i-1][j], distance[i][j-1]) + 1
			switch {
			case a[i-1] == b[j-1]:
				fewest = min(fewest, distance[i-1][j-1])
			case unicode.IsDigit(a[i-1]) == unicode.IsDigit(b[j-1]):
				fewest = min(fewest, distance[i-1][j-1]+1)
			}
			if i > 1 && j > 1 && a[i-2] == b[j-1] && a[i-1] == b[j-2] {
				fewest = min(fewest, distance[i-2][j-2]+1)
			}
			distance[i][j] = fewest
		}
	}
	return distance[len(a)][len(b)]
}
