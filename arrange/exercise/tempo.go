package exercise

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"thirdwise/arrange/exercise/source"
)

// readTempos reads a list of tempos, or one alone, and where each stands. The list
// may be written without brackets, and a tempo with its unit.
func readTempos(s setting) (tempos []int, spans []source.Span) {
	seen := map[int]bool{}
	for _, item := range s.items() {
		if isRange(item) {
			continue
		}
		list := item.Fields(separatesTempos)
		if decimal.MatchString(item.String()) || len(list) == 0 {
			list = []source.Text{item}
		}
		for i, t := range list {
			if isTempoUnit(t.String()) && i > 0 {
				continue
			}
			n, ok := readTempo(t)
			switch {
			case !ok:
			case seen[n]:
				t.Mistake(fmt.Sprintf("the tempo %d is listed twice", n), "list each tempo once")
			default:
				seen[n] = true
				tempos, spans = append(tempos, n), append(spans, t.Span())
			}
		}
	}
	return tempos, spans
}

// separatesTempos reports whether a character stands between tempos.
func separatesTempos(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;/()=♩&", r) }

// isTempoUnit reports whether a word stands behind a tempo and says nothing more.
func isTempoUnit(s string) bool { return strings.EqualFold(s, "bpm") || strings.EqualFold(s, "and") }

// decimal matches one number with a decimal comma, which would be two with a list's.
var decimal = regexp.MustCompile(`^\d+,\d$`)

// tempoRange matches a range of tempos, up or down, with or without its steps.
var tempoRange = regexp.MustCompile(`^(\d{1,4})\s*(?:-|–|to|\.\.+|…|-+>|→)\s*(\d{1,4})(?:\s*bpm)?(?:,?\s*(?:by|in steps of|steps of|step|\+)\s*(\d{1,4}))?$`)

// isRange reports whether a text is a range of tempos, and notes what to list in its
// place: its steps, or as an example one in the middle.
func isRange(t source.Text) bool {
	found := tempoRange.FindStringSubmatch(strings.ToLower(t.String()))
	if found == nil {
		return false
	}
	from, _ := strconv.Atoi(found[1])
	to, _ := strconv.Atoi(found[2])
	step, _ := strconv.Atoi(found[3])
	if from > to {
		step = -step
	}
	const most = 12 // steps that are worth listing
	if step == 0 || (to-from)/step > most {
		t.Mistake(t.Quoted()+" does not say which tempos lie between", fmt.Sprintf("list each of them, as in [%d, %d, %d]", from, (from+to)/2, to))
		return true
	}
	list := strconv.Itoa(from)
	for i := range (to - from) / step {
		list += fmt.Sprintf(", %d", from+(i+1)*step)
	}
	t.Mistake(t.Quoted()+" is not a list of tempos", "list each of them: ["+list+"]")
	return true
}

// readTempo reads one tempo.
func readTempo(t source.Text) (n int, ok bool) {
	return readNumber(t, "tempo", minTempo, maxTempo, "bpm")
}

// readClimb reads by how much the climb goes up each time.
func readClimb(t source.Text, tempos int) int {
	if tempos == 1 {
		t.Mistake("there is only one tempo, so there is nothing to climb to", "list two tempos or more, or leave climb out")
	}
	return between("climb", 1, maxClimb, "bpm")(t)
}
