package exercise

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"thirdwise/arrange/exercise/said"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
	"thirdwise/theory/remedy"
)

// longestName is how many characters any name of music has at most, with room to
// spare. What is longer need not be read.
const longestName = 40

// lineOfText returns a reader of words that stand in one line of a sheet. The
// name stands in its messages.
func lineOfText(name string) func(source.Text) string {
	return func(t source.Text) string {
		s := t.String()
		if strings.ContainsRune(s, '\n') {
			t.Mistake("the "+name+" has more than one line", "write it in one")
		}
		if n := len([]rune(s)); n > maxTitle {
			t.Mistake(fmt.Sprintf("the %s has %d characters", name, n), fmt.Sprintf("use at most %d", maxTitle))
		}
		return s
	}
}

func readKey(t source.Text) theory.Key {
	if t.Len() > longestName {
		t.Mistake(t.Quoted()+" is not a key", "write a tonic and a mode, as in Bb major")
		return theory.Key{}
	}
	k, err := theory.ParseKey(t.String())
	if err != nil {
		t.Slip(remedy.Of(err))
		return theory.Key{}
	}
	return k
}

func readMeter(t source.Text) meter.Meter {
	written := strings.ReplaceAll(t.String(), " / ", "/")
	if usual, also := said.Meters[strings.ToLower(written)]; also {
		written = usual
	}
	m, err := meter.Parse(written)
	if err != nil {
		t.Slip(remedy.Of(err))
	}
	return m
}

// between returns a reader of whole numbers within limits. What is counted stands
// in its messages; its units may stand behind the number.
func between(what string, low, high int, units ...string) func(source.Text) int {
	return func(t source.Text) int {
		n, _ := readNumber(t, what, low, high, units...)
		return n
	}
}

// readNumber reads a whole number within limits; ok is false where it is none,
// which has been noted.
func readNumber(t source.Text, what string, low, high int, units ...string) (n int, ok bool) {
	counted := "number"
	if slices.Contains(units, "bars") {
		counted = "number of bars"
	}
	words := fmt.Sprintf("use a whole %s from %d to %d", counted, low, high)
	number := strings.ToLower(t.String())
	for _, unit := range units {
		if bare, found := strings.CutSuffix(number, unit); found {
			number = strings.TrimSpace(bare)
			break
		}
	}
	n, err := strconv.Atoi(number)
	switch {
	case err != nil:
		t.Mistake(fmt.Sprintf("%s: %s is not a whole number", what, t.Quoted()), words)
	case n < low || n > high:
		t.Mistake(fmt.Sprintf("%s: %d is out of range", what, n), words)
	}
	return n, err == nil && n >= low && n <= high
}

// choose reads one of several names, whatever its capitals, or what else is said
// for one of them; ok is false where it is none, which has been noted.
func choose(t source.Text, what string, names []string, alsoSaid map[string]string) (index int, ok bool) {
	word := strings.ToLower(strings.Join(strings.Fields(t.String()), " "))
	if name, also := alsoSaid[word]; also {
		word = name
	}
	if i := slices.Index(names, word); i >= 0 {
		return i, true
	}
	why := remedy.Say("use " + remedy.AnyOf(names))
	if first, _, several := strings.Cut(word, " "); several && slices.Contains(names, first) {
		why = remedy.Meant(first)
	}
	if best := said.Nearest(word, names); best != nil {
		why = remedy.Meant(best...)
	}
	t.Slip(t.Quoted()+" is not "+what, why)
	return 0, false
}

func readBass(t source.Text) Bass {
	i, _ := choose(t, "something that the bass can play", bassNames[:], said.Basses)
	return Bass(i)
}

func readFeel(t source.Text, m meter.Meter) meter.Feel {
	feels := meter.Feels()
	names := make([]string, len(feels))
	for i, feel := range feels {
		names[i] = feel.String()
	}
	i, ok := choose(t, "a supported feel", names, said.Feels)
	if ok && m.Unit > 0 && !feels[i].Fits(m) {
		t.Mistake(fmt.Sprintf("%s does not fit %s, whose beats are not quarters", feels[i], m), "use straight, or a meter such as 4/4")
	}
	return feels[i]
}

// readDensity reads a whole number of per cent. A fraction below one is taken for
// the share that it is.
func readDensity(t source.Text) int {
	const words = "use a whole number from 0% to 100%"
	number := strings.ToLower(t.String())
	for _, unit := range []string{"%", "percent", "per cent"} {
		number = strings.TrimSpace(strings.TrimSuffix(number, unit))
	}
	if number == "half" {
		return 50
	}
	n, err := strconv.Atoi(number)
	share, failed := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	switch {
	case err != nil && failed == nil && share > 0 && share < 1 && number == strings.ToLower(t.String()):
		return int(math.Round(100 * share))
	case err != nil:
		t.Mistake(fmt.Sprintf("density: %s is not a whole number of per cent", t.Quoted()), words)
	case n < 0 || n > 100:
		t.Mistake(fmt.Sprintf("density: %d%% is out of range", n), words)
	}
	return n
}

func readGrid(t source.Text, m meter.Meter) meter.Grid {
	grids := meter.Grids()
	names := make([]string, len(grids))
	for i, grid := range grids {
		names[i] = grid.String()
	}
	i, ok := choose(t, "a supported grid", names, said.Grids)
	if !ok {
		return meter.Eighths
	}
	checkGrid(t, grids[i], m)
	return grids[i]
}

// checkGrid notes a grid whose slots do not lie in the meter.
func checkGrid(t source.Text, g meter.Grid, m meter.Meter) {
	switch {
	case m.Unit == 0:
	case g == meter.Triplets && m.Compound():
		t.Mistake(fmt.Sprintf("a beat of %s already has three eighths; triplets do not fit into it", m), "use eighths")
	case m.Bar()%g.Ticks() != 0:
		t.Mistake(fmt.Sprintf("%s do not fill a bar of %s", g, m), "use eighths or sixteenths")
	}
}

func readPitch(t source.Text) *theory.Pitch {
	if t.Len() > longestName {
		t.Mistake(t.Quoted()+" is not a pitch", "write a note name and an octave, as in C4")
		return nil
	}
	p, err := theory.ParsePitch(t.String())
	if err != nil {
		t.Slip(remedy.Of(err))
		return nil
	}
	return &p
}

// checkCompass notes a compass that is upside down.
func checkCompass(line settings, l LineSettings) {
	if l.Low != nil && l.High != nil && l.Low.MIDI() > l.High.MIDI() {
		line["high"].Mistake(fmt.Sprintf("the compass is upside down: high, %s, lies below low, %s", l.High, l.Low), "make low the lower of the two")
	}
}

// readTuning reads the open strings' pitches, as a list or as one text.
func readTuning(s setting) neck.Tuning {
	items := s.items()
	if len(items) == 0 {
		return nil
	}
	names := make([]string, len(items))
	for i, t := range items {
		names[i] = t.String()
	}
	all := items[0].Through(items[len(items)-1])
	tuning, err := neck.ParseTuning(strings.Join(names, " "))
	switch {
	case err == nil && tuning.Falls():
		slices.Reverse(tuning)
		all.Slip("the tuning begins with the highest string", remedy.Write("write it the other way round: %s", tuning.ASCII()))
	case err == nil:
	case !slices.ContainsFunc(namesOf(items), isPitch):
		all.Mistake(source.Quoted(strings.Join(names, " "))+" is not a tuning", fmt.Sprintf("list %d to %d open strings, the lowest first and each with its octave, as in %s, or write one of %s",
			neck.MinStrings, neck.MaxStrings, neck.Standard().ASCII(), strings.Join(neck.TuningNames(), ", ")))
	case !noPitch(items):
		all.Slip(remedy.Of(err))
	}
	return tuning
}

// namesOf divides what a tuning is written as into the names of its strings.
func namesOf(items []source.Text) (names []source.Text) {
	for _, t := range items {
		names = append(names, t.Fields(func(r rune) bool { return r == ',' || unicode.IsSpace(r) })...)
	}
	return names
}

// isPitch reports whether a text is a pitch.
func isPitch(t source.Text) bool {
	_, err := theory.ParsePitch(t.String())
	return err == nil
}

// noPitch notes the open strings that are no pitches, where several are listed, and
// reports whether there are any.
func noPitch(items []source.Text) bool {
	names := namesOf(items)
	found := false
	for _, name := range names {
		if len(names) > 1 && readPitch(name) == nil {
			found = true
		}
	}
	return found
}

func readCapo(t source.Text) int {
	if strings.EqualFold(t.String(), "none") || strings.EqualFold(t.String(), "no") {
		return 0
	}
	return between("capo", 0, neck.MaxCapo, "st fret", "nd fret", "rd fret", "th fret", "fret")(t)
}

func readPosition(t source.Text, n neck.Neck) neck.Position {
	p, err := neck.ParsePosition(t.String())
	if err == nil && n.Capo >= 0 && n.Capo <= neck.MaxCapo {
		err = n.CheckPosition(p)
	}
	if err != nil {
		t.Slip(remedy.Of(err))
	}
	return p
}
