// Package meter holds music's time: ticks, time signatures, the grid in which a
// line moves, and the feel with which short notes are played.
//
// There are 480 ticks to the quarter note, and every start and length is a whole
// tick. The package is pure and knows nothing of pitch.
package meter

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"thirdwise/theory/remedy"
)

// Quarter is the length of a quarter note in ticks.
const Quarter = 480

// A Meter is a time signature: beats of a unit, as written one above the other,
// and how they are grouped where that is not as usual.
type Meter struct {
	Beats, Unit int    // 6 and 8 for 6/8
	Grouping    string // "3+2+2", the units of each group; empty for the usual grouping
}

// usual lists the meters that an exercise can have, with the groups into which
// each usually falls (common practice): its strong beats are where they begin.
var usual = [...]struct {
	beats, unit int
	groups      []int
}{
	{2, 4, []int{2}},
	{3, 4, []int{3}},
	{4, 4, []int{2, 2}},
	{5, 4, []int{3, 2}},
	{7, 4, []int{2, 2, 3}},
	{2, 2, []int{1, 1}},
	{6, 8, []int{3, 3}},
	{7, 8, []int{2, 2, 3}},
	{9, 8, []int{3, 3, 3}},
	{12, 8, []int{3, 3, 3, 3}},
}

// Meters returns the meters that an exercise can have, grouped as usual.
func Meters() []Meter {
	all := make([]Meter, len(usual))
	for i, u := range usual {
		all[i] = Meter{Beats: u.beats, Unit: u.unit}
	}
	return all
}

// Bar returns the length of a bar in ticks.
func (m Meter) Bar() int { return m.Beats * m.UnitTicks() }

// UnitTicks returns the length of the meter's written unit in ticks: an eighth
// in 6/8.
func (m Meter) UnitTicks() int { return 4 * Quarter / m.Unit }

// Compound reports whether the meter's beat divides by three: 6/8, 9/8, 12/8.
func (m Meter) Compound() bool { return m.Unit == 8 && m.Beats%3 == 0 }

// Uneven reports whether the bar's beats are of two lengths, as in 7/8: a quarter
// and a dotted quarter.
func (m Meter) Uneven() bool { return m.Unit == 8 && m.Beats%3 != 0 }

// Beat returns the length in ticks of the beat that a tempo counts: a quarter
// in 4/4 and in 7/8, a dotted quarter in 6/8, a half in 2/2.
func (m Meter) Beat() int {
	switch {
	case m.Compound():
		return 3 * m.UnitTicks()
	case m.Uneven():
		return 2 * m.UnitTicks()
	}
	return m.UnitTicks()
}

// Groups returns the units in each of the groups of a bar: 2, 2 and 3 in 7/8.
func (m Meter) Groups() []int {
	if m.Grouping != "" {
		groups, _ := parseGroups(m.Grouping)
		return groups
	}
	for _, u := range usual {
		if u.beats == m.Beats && u.unit == m.Unit {
			return slices.Clone(u.groups)
		}
	}
	return []int{m.Beats}
}

// Strong returns the ticks of the bar's strong beats, on which its groups begin:
// 0 and 960 in 4/4.
func (m Meter) Strong() []int {
	var ticks []int
	at := 0
	for _, units := range m.Groups() {
		ticks = append(ticks, at)
		at += units * m.UnitTicks()
	}
	return ticks
}

// BeatStarts returns the ticks of the bar on which its beats begin: 0, 480 and
// 960 in 7/8, whose last beat is the longer one.
func (m Meter) BeatStarts() []int {
	if m.Uneven() {
		return m.Strong()
	}
	var ticks []int
	for at := 0; at < m.Bar(); at += m.Beat() {
		ticks = append(ticks, at)
	}
	return ticks
}

// BeatAt returns the beat, from 0, in which a tick of the bar lies.
func (m Meter) BeatAt(tick int) (beat int) {
	for i, start := range m.BeatStarts() {
		if start <= tick {
			beat = i
		}
	}
	return beat
}

// QuarterMicros returns the length of a quarter note in whole microseconds at a
// tempo in beats a minute: what a Standard MIDI File can say, and the number
// from which audio is timed too.
func (m Meter) QuarterMicros(tempo int) int {
	const minute = 60_000_000
	beat := m.Beat() * tempo
	return (minute*Quarter + beat/2) / beat
}

// String prints the meter as an exercise writes it: "6/8", or "7/8 (3+2+2)" where
// it is not grouped as usual.
func (m Meter) String() string {
	s := fmt.Sprintf("%d/%d", m.Beats, m.Unit)
	if m.Grouping != "" {
		s += " (" + m.Grouping + ")"
	}
	return s
}

// Parse reads a meter as an exercise writes it: "4/4", "7/8 (3+2+2)", the grouping
// with or without brackets. The error says what to write.
func Parse(s string) (Meter, error) {
	signature, grouping, _ := strings.Cut(strings.Join(strings.Fields(s), " "), " ")
	var m Meter
	var names []string
	for _, u := range Meters() {
		if u.String() == signature {
			m = u
		}
		names = append(names, u.String())
	}
	if m == (Meter{}) {
		if meant := misspelt(s); slices.Contains(names, meant) {
			return Meter{}, remedy.Errorf(remedy.Meant(meant), `"%s" is not a meter`, s)
		}
		return Meter{}, remedy.Errorf(remedy.Say("use "+remedy.AnyOf(names)), `"%s" is not a supported meter`, s)
	}
	switch {
	case grouping == "":
		return m, nil
	case strings.Contains(grouping, "/"):
		written := []string{m.String()}
		if other, err := Parse(strings.Trim(grouping, "|,; ")); err == nil {
			written = append(written, other.String())
		}
		return Meter{}, remedy.Errorf(remedy.Write("write %s", written...), "an exercise has one meter")
	}
	groups, err := parseGroups(strings.Trim(grouping, "()"))
	if err != nil {
		return Meter{}, err
	}
	sum := 0
	for _, units := range groups {
		sum += units
	}
	switch {
	case sum != m.Beats:
		return Meter{}, remedy.Errorf(remedy.Say(fmt.Sprintf("write, for example, %s (%s)", m, joined(m.Groups()))),
			"the groups of %s add up to %d and not to %d", m, sum, m.Beats)
	case m.Compound() && !slices.Equal(groups, m.Groups()):
		return Meter{}, remedy.Errorf(remedy.Say("leave the grouping out"), "%s has groups of three eighths", m)
	case m.Uneven() && slices.ContainsFunc(groups, func(units int) bool { return units < 2 || units > 3 }):
		return Meter{}, remedy.Errorf(remedy.Say(fmt.Sprintf("write, for example, %s (3+2+2)", m)), "the groups of %s have two or three eighths", m)
	}
	if !slices.Equal(groups, m.Groups()) {
		m.Grouping = joined(groups)
	}
	return m, nil
}

// numbers are those of a meter, whatever stands between and behind them.
var numbers = regexp.MustCompile(`^(\d+)(?:\s*[-–:.,\\|/]\s*(\d+))?(?:\D|$)`)

// misspelt returns the meter that is probably meant by 4, 4-4, 4:4 or 4/4-Takt.
func misspelt(s string) string {
	found := numbers.FindStringSubmatch(s)
	switch {
	case found == nil:
		return ""
	case found[2] == "":
		return found[1] + "/4"
	}
	return found[1] + "/" + found[2]
}

// parseGroups reads the units of each group, as in 3+2+2.
func parseGroups(s string) ([]int, error) {
	var groups []int
	for part := range strings.SplitSeq(s, "+") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 {
			return nil, remedy.Errorf(remedy.Say("write numbers with + between them, as in 2+2+3"), `"%s" is not a grouping of beats`, s)
		}
		groups = append(groups, n)
	}
	return groups, nil
}

func joined(groups []int) string {
	parts := make([]string, len(groups))
	for i, units := range groups {
		parts[i] = strconv.Itoa(units)
	}
	return strings.Join(parts, "+")
}
