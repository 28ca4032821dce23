package exercise

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// longestName is how many characters any name of music has at most, with room to
// spare. What is longer need not be read.
const longestName = 40

// wrong notes what a reader of names says of a text: what was found, and after a
// semicolon what to write. Where it does not say that, the remedy is.
func wrong(t source.Text, err error, remedy string) {
	message, told, found := strings.Cut(err.Error(), "; ")
	if found {
		remedy = told
	}
	t.Mistake(message, remedy)
}

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
	const remedy = "write a tonic and a mode, as in Bb major"
	if t.Len() > longestName {
		t.Mistake(t.Quoted()+" is not a key", remedy)
		return theory.Key{}
	}
	k, err := theory.ParseKey(t.String())
	if err != nil {
		wrong(t, err, remedy)
		return theory.Key{}
	}
	return k
}

// metersSaid is what else is said for meters.
var metersSaid = map[string]string{"common time": "4/4", "c": "4/4", "cut time": "2/2", "alla breve": "2/2"}

func readMeter(t source.Text) meter.Meter {
	said := strings.ReplaceAll(t.String(), " / ", "/")
	if written, also := metersSaid[strings.ToLower(said)]; also {
		said = written
	}
	m, err := meter.Parse(said)
	if err != nil {
		wrong(t, err, "write it as in 4/4")
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
	remedy := fmt.Sprintf("use a whole number from %d to %d", low, high)
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
		t.Mistake(fmt.Sprintf("%s: %s is not a whole number", what, t.Quoted()), remedy)
	case n < low || n > high:
		t.Mistake(fmt.Sprintf("%s: %d is out of range", what, n), remedy)
	}
	return n, err == nil && n >= low && n <= high
}

// readTempos reads a list of tempos, or one alone, and where each stands. The list
// may be written without brackets, and a tempo with its unit.
func readTempos(s setting) (tempos []int, spans []source.Span) {
	seen := map[int]bool{}
	for _, item := range s.items() {
		list := item.Fields(separatesTempos)
		if strings.Contains(item.String(), " to ") || len(list) == 0 {
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
func separatesTempos(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;/", r) }

// isTempoUnit reports whether a word stands behind a tempo and says nothing more.
func isTempoUnit(s string) bool { return strings.EqualFold(s, "bpm") || strings.EqualFold(s, "♩") }

// readTempo reads one tempo. Of a range it asks for the steps.
func readTempo(t source.Text) (n int, ok bool) {
	from, to, isRange := strings.Cut(strings.NewReplacer("–", "-", " to ", "-").Replace(t.String()), "-")
	low, err1 := strconv.Atoi(from)
	high, err2 := strconv.Atoi(to)
	if isRange && err1 == nil && err2 == nil && low < high {
		t.Mistake(t.Quoted()+" does not say which tempos lie between", fmt.Sprintf("list each of them, as in [%d, %d, %d]", low, (low+high)/2, high))
		return 0, false
	}
	return readNumber(t, "tempo", minTempo, maxTempo, "bpm")
}

// readClimb reads by how much the climb goes up each time.
func readClimb(t source.Text, tempos int) int {
	if tempos == 1 {
		t.Mistake("there is only one tempo, so there is nothing to climb to", "list two tempos or more, or leave climb out")
	}
	return between("climb", 1, maxClimb, "bpm")(t)
}

// choose reads one of several names, whatever its capitals, or what else is said
// for one of them; ok is false where it is none, which has been noted.
func choose(t source.Text, what string, names []string, alsoSaid map[string]string) (index int, ok bool) {
	said := strings.ToLower(strings.Join(strings.Fields(t.String()), " "))
	if name, also := alsoSaid[said]; also {
		said = name
	}
	if i := slices.Index(names, said); i >= 0 {
		return i, true
	}
	remedy := "use " + anyOf(names)
	if best := nearest(said, names); best != "" {
		remedy = "did you mean " + best + "?"
	}
	t.Mistake(t.Quoted()+" is not "+what, remedy)
	return 0, false
}

func readBass(t source.Text) Bass {
	i, _ := choose(t, "something that the bass can play", bassNames[:], map[string]string{
		"no": "none", "root fifth": "root-fifth", "root and fifth": "root-fifth", "root-five": "root-fifth", "walking bass": "walking",
	})
	return Bass(i)
}

// feelsSaid is what else is said for the feels.
var feelsSaid = map[string]string{
	"straight eighths": "straight", "even": "straight",
	"swung": "swing", "shuffle": "swing", "swing eighths": "swing",
	"swung sixteenths": "swing sixteenths", "swing 16ths": "swing sixteenths", "16th swing": "swing sixteenths", "sixteenth swing": "swing sixteenths",
}

func readFeel(t source.Text, m meter.Meter) meter.Feel {
	feels := meter.Feels()
	names := make([]string, len(feels))
	for i, feel := range feels {
		names[i] = feel.String()
	}
	i, ok := choose(t, "a supported feel", names, feelsSaid)
	if ok && m.Unit > 0 && !feels[i].Fits(m) {
		t.Mistake(fmt.Sprintf("%s does not fit %s, whose beats are not quarters", feels[i], m), "use straight, or a meter such as 4/4")
	}
	return feels[i]
}

// readDensity reads a whole number of per cent. A fraction below one is taken for
// the share that it is.
func readDensity(t source.Text) int {
	const remedy = "use a whole number from 0% to 100%"
	said := strings.ToLower(t.String())
	for _, unit := range []string{"%", "percent", "per cent"} {
		said = strings.TrimSpace(strings.TrimSuffix(said, unit))
	}
	if said == "half" {
		return 50
	}
	n, err := strconv.Atoi(said)
	share, failed := strconv.ParseFloat(said, 64)
	switch {
	case err != nil && failed == nil && share > 0 && share < 1 && said == strings.ToLower(t.String()):
		return int(math.Round(100 * share))
	case err != nil:
		t.Mistake(fmt.Sprintf("density: %s is not a whole number of per cent", t.Quoted()), remedy)
	case n < 0 || n > 100:
		t.Mistake(fmt.Sprintf("density: %d%% is out of range", n), remedy)
	}
	return n
}

// gridsSaid is what else is said for the grids (common practice: the British names of
// notes, and the fractions).
var gridsSaid = map[string]string{
	"crotchets": "quarters", "quarter": "quarters", "quarter notes": "quarters", "1/4": "quarters", "4ths": "quarters",
	"quavers": "eighths", "eighth": "eighths", "eighth notes": "eighths", "8th notes": "eighths", "1/8": "eighths", "8ths": "eighths",
	"triplet": "triplets", "eighth triplets": "triplets", "eighth-note triplets": "triplets", "quaver triplets": "triplets",
	"semiquavers": "sixteenths", "sixteenth": "sixteenths", "sixteenth notes": "sixteenths", "16th notes": "sixteenths", "1/16": "sixteenths", "16ths": "sixteenths",
}

func readGrid(t source.Text, m meter.Meter) meter.Grid {
	grids := meter.Grids()
	names := make([]string, len(grids))
	for i, grid := range grids {
		names[i] = grid.String()
	}
	i, ok := choose(t, "a supported grid", names, gridsSaid)
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
	const remedy = "write a note name and an octave, as in C4"
	if t.Len() > longestName {
		t.Mistake(t.Quoted()+" is not a pitch", remedy)
		return nil
	}
	p, err := theory.ParsePitch(t.String())
	if err != nil {
		wrong(t, err, remedy)
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
	tuning, err := neck.ParseTuning(strings.Join(names, " "))
	if err != nil && !noPitch(items) {
		wrong(items[0].Through(items[len(items)-1]), err, "list the open strings, the lowest first, as in "+neck.Standard().String())
	}
	return tuning
}

// noPitch notes the open strings that are no pitches, where several are listed, and
// reports whether there are any.
func noPitch(items []source.Text) bool {
	var names []source.Text
	for _, t := range items {
		names = append(names, t.Fields(func(r rune) bool { return r == ',' || unicode.IsSpace(r) })...)
	}
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
		wrong(t, err, "use open, free or the fret at which the first finger stands")
	}
	return p
}
