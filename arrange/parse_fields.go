package arrange

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Limits of an exercise.
const (
	MaxTitle   = 200 // characters
	MinTempo   = 20  // beats a minute
	MaxTempo   = 400
	MaxPasses  = 100
	MaxCountIn = 8  // bars
	MaxClimb   = 50 // beats a minute
	maxSigns   = 64
)

// The keys of an exercise and of the mappings in it, in the order in which they
// are listed to people.
var (
	requiredKeys = []string{"title", "key", "chart"}
	exerciseKeys = []string{"title", "key", "meter", "chart", "passes", "tempos", "count-in", "climb", "feel", "line", "guitar", "strum", "bass"}
	lineKeys     = []string{"density", "grid", "low", "high"}
	guitarKeys   = []string{"tuning", "capo", "position"}
)

// defaults returns the exercise that is made of nothing but defaults: everything
// but title, key and chart.
func defaults() Exercise {
	return Exercise{
		Meter:   Meter{4, 4},
		Passes:  2,
		Tempos:  []int{60, 80, 100},
		CountIn: 1,
		Line:    LineSettings{Density: 50, Grid: Eighths},
		Neck:    neck.Neck{Tuning: neck.Standard()},
	}
}

// A field is a key with its value.
type field struct {
	name  string
	value ast.Node
}

// exercise reads the whole mapping. What other fields depend on comes first; a
// key or meter that cannot be read is replaced by the default, so that the rest
// is still checked.
func (p *exerciseParser) exercise(root *ast.MappingNode) *Exercise {
	fields := p.fields(root, exerciseKeys)
	for _, name := range requiredKeys {
		if _, ok := fields[name]; !ok && !p.misspelt(root, name) {
			p.mistake(span{p.nodeSpan(root).Pos, 0}, "the exercise has no "+name, "add a line that begins with "+name+":")
		}
	}
	e := defaults()
	p.read(fields, "title", func(t text) { e.Title = p.title(t) })
	p.read(fields, "key", func(t text) { e.Key = p.key(t) })
	p.read(fields, "meter", func(t text) { e.Meter = p.meter(t) })
	p.read(fields, "chart", func(t text) { e.Chart = p.chart(t, e.Key, e.Meter) })
	p.read(fields, "passes", func(t text) { e.Passes = p.whole(t, "passes", 1, MaxPasses) })
	if f, ok := fields["tempos"]; ok {
		e.Tempos, e.tempoSpans = p.tempos(f)
	}
	p.read(fields, "climb", func(t text) { e.Climb = p.climb(t, e.Tempos) })
	p.read(fields, "count-in", func(t text) { e.CountIn = p.whole(t, "bars of count-in", 1, MaxCountIn) })
	p.read(fields, "feel", func(t text) { e.Feel = p.feel(t, e.Meter) })
	if f, ok := fields["line"]; ok {
		p.line(f, &e)
	}
	if f, ok := fields["guitar"]; ok {
		p.guitar(f, &e)
	}
	p.read(fields, "strum", func(t text) { e.Strum = p.strum(t, e.Meter) })
	p.read(fields, "bass", func(t text) { e.Bass = p.bass(t) })
	return &e
}

// fields returns the values of a mapping by key and notes the keys that are not
// among the known ones or come twice.
func (p *exerciseParser) fields(m *ast.MappingNode, known []string) map[string]field {
	fields := map[string]field{}
	first := map[string]int{} // the line of each key
	for _, entry := range m.Values {
		at, name := p.nodeSpan(entry), entry.Key.GetToken().Value
		line, twice := first[name]
		switch {
		case twice:
			p.mistake(at, fmt.Sprintf("the key %s is already given in line %d", quoted(name), line), "keep one of the two")
		case !contains(known, name):
			first[name] = at.Line
			p.mistake(at, "unknown key "+quoted(name), didYouMean(name, known, "the keys here are"))
		default:
			first[name] = at.Line
			fields[name] = field{name, entry.Value}
		}
	}
	return fields
}

// misspelt reports whether a key of the mapping was probably meant to be the
// named one; it has been noted as unknown.
func (p *exerciseParser) misspelt(m *ast.MappingNode, name string) bool {
	for _, entry := range m.Values {
		if nearest(entry.Key.GetToken().Value, exerciseKeys) == name {
			return true
		}
	}
	return false
}

// read hands the text of a field, if it is there, to the function.
func (p *exerciseParser) read(fields map[string]field, name string, use func(text)) {
	f, ok := fields[name]
	if !ok {
		return
	}
	t, ok := p.scalar(f.value)
	switch {
	case !ok:
		p.mistake(p.nodeSpan(f.value), fmt.Sprintf("%s is one value, not a list or further keys", name), "write the value behind the colon")
	case t.String() == "":
		p.noValue(t, name)
	default:
		use(t)
	}
}

func (p *exerciseParser) noValue(t text, name string) {
	remedy := "write the value behind the colon"
	if !contains(requiredKeys, name) {
		remedy += ", or leave the line out for the default"
	}
	p.mistake(t.start, name+" has no value", remedy)
}

func (p *exerciseParser) title(t text) string {
	s := t.String()
	if strings.ContainsRune(s, '\n') {
		p.mistake(t.whole(), "the title has more than one line", "write it in one")
	}
	if n := utf8.RuneCountInString(s); n > MaxTitle {
		p.mistake(t.whole(), fmt.Sprintf("the title has %d characters", n), fmt.Sprintf("use at most %d", MaxTitle))
	}
	return s
}

func (p *exerciseParser) key(t text) theory.Key {
	if tooLong(t) {
		p.mistake(t.whole(), quoted(t.String())+" is not a key", "write a tonic and a mode, as in: B♭ major")
		return theory.Key{}
	}
	k, err := theory.ParseKey(t.String())
	if err != nil && k != (theory.Key{}) { // a key, but with too long a signature; the error names another
		p.mistake(t.whole(), err.Error(), "")
		return theory.Key{}
	}
	if err != nil {
		p.mistake(t.whole(), err.Error(), "write a tonic and a mode, as in: B♭ major")
		return theory.Key{}
	}
	return k
}

func (p *exerciseParser) meter(t text) Meter {
	var names []string
	for _, m := range Meters() {
		if m.String() == t.String() {
			return m
		}
		names = append(names, m.String())
	}
	p.mistake(t.whole(), quoted(t.String())+" is no meter known here", "use one of "+strings.Join(names, ", "))
	return Meter{}
}

// whole reads a whole number within limits; what is counted stands in the
// message.
func (p *exerciseParser) whole(t text, what string, low, high int) int {
	n, err := strconv.Atoi(t.String())
	remedy := fmt.Sprintf("use a whole number from %d to %d", low, high)
	switch {
	case err != nil:
		p.mistake(t.whole(), fmt.Sprintf("%s: %s is not a whole number", what, quoted(t.String())), remedy)
	case n < low || n > high:
		p.mistake(t.whole(), fmt.Sprintf("%s: %d is out of range", what, n), remedy)
	}
	return n
}

// tempos reads a list of tempos, or one alone, and where each stands.
func (p *exerciseParser) tempos(f field) (tempos []int, spans []span) {
	items := p.items(f)
	seen := map[int]bool{}
	for _, t := range items {
		before := len(p.mistakes)
		n := p.whole(t, "tempo", MinTempo, MaxTempo)
		if len(p.mistakes) > before {
			continue
		}
		if seen[n] {
			p.mistake(t.whole(), fmt.Sprintf("the tempo %d is listed twice", n), "list each tempo once")
			continue
		}
		seen[n] = true
		tempos, spans = append(tempos, n), append(spans, t.whole())
	}
	return tempos, spans
}

// items returns the texts of a list, or the one text that stands in its place.
// An empty list is a mistake.
func (p *exerciseParser) items(f field) []text {
	seq, ok := f.value.(*ast.SequenceNode)
	if !ok {
		t, ok := p.scalar(f.value)
		switch {
		case !ok:
			p.mistake(p.nodeSpan(f.value), f.name+" is a list, not further keys", "write values with commas in [ ]")
			return nil
		case t.String() == "":
			p.noValue(t, f.name)
			return nil
		}
		return []text{t}
	}
	if len(seq.Values) == 0 {
		p.mistake(p.nodeSpan(seq), f.name+" is an empty list", "list at least one value, or leave the line out for the default")
	}
	var items []text
	for _, value := range seq.Values {
		t, ok := p.scalar(value)
		switch {
		case !ok:
			p.mistake(p.nodeSpan(value), f.name+" is a list of single values", "take the inner list or keys out")
		case t.String() == "":
			p.mistake(t.start, f.name+" has an empty item", "write a value or take it out")
		default:
			items = append(items, t)
		}
	}
	return items
}

func (p *exerciseParser) bass(t text) Bass {
	for b, name := range bassNames {
		if t.String() == name {
			return Bass(b)
		}
	}
	p.mistake(t.whole(), quoted(t.String())+" is nothing that the bass can play", "use "+strings.Join(bassNames[:], ", "))
	return NoBass
}

// climb reads by how much the rising practice track goes up each time.
func (p *exerciseParser) climb(t text, tempos []int) int {
	climb := p.whole(t, "beats a minute of climb", 1, MaxClimb)
	if len(tempos) == 1 {
		p.mistake(t.whole(), "there is but one tempo, and nothing to climb to", "list two tempos or more, or leave climb out")
	}
	return climb
}

func (p *exerciseParser) feel(t text, m Meter) Feel {
	switch t.String() {
	case Straight.String():
		return Straight
	case Swing.String():
		if m != (Meter{}) && m.Beat() != Quarter {
			p.mistake(t.whole(), fmt.Sprintf("%s has no quarter beats to swing", m), "use straight, or a meter such as 4/4")
		}
		return Swing
	}
	p.mistake(t.whole(), quoted(t.String())+" is no feel", "use straight or swing")
	return Straight
}

// mappingOf returns the fields of a mapping within the exercise.
func (p *exerciseParser) mappingOf(f field, known []string) map[string]field {
	switch n := f.value.(type) {
	case *ast.MappingNode:
		return p.fields(n, known)
	case *ast.MappingValueNode:
		return p.fields(&ast.MappingNode{Values: []*ast.MappingValueNode{n}}, known)
	case *ast.NullNode:
		p.mistake(p.nodeSpan(n), f.name+" has no keys", "write "+strings.Join(known, ", ")+" indented below, or leave the line out")
	default:
		p.mistake(p.nodeSpan(n), f.name+" is a group of keys, not a value", "write "+strings.Join(known, ", ")+" indented below")
	}
	return nil
}

func (p *exerciseParser) line(f field, e *Exercise) {
	fields := p.mappingOf(f, lineKeys)
	p.read(fields, "density", func(t text) { e.Line.Density = p.density(t) })
	p.read(fields, "grid", func(t text) { e.Line.Grid = p.grid(t, e.Meter) })
	p.read(fields, "low", func(t text) { e.Line.Low = p.pitch(t) })
	p.read(fields, "high", func(t text) {
		e.Line.High = p.pitch(t)
		low, high := e.Line.Low, e.Line.High
		if low != nil && high != nil && low.MIDI() > high.MIDI() {
			p.mistake(t.whole(), fmt.Sprintf("the compass is upside down: high, %s, lies below low, %s", high, low), "let low be the lower of the two")
		}
	})
}

func (p *exerciseParser) density(t text) int {
	const remedy = "use a whole number from 0% to 100%"
	number := strings.TrimSpace(strings.TrimSuffix(t.String(), "%"))
	n, err := strconv.Atoi(number)
	switch {
	case err != nil:
		p.mistake(t.whole(), fmt.Sprintf("density: %s is not a whole number of per cent", quoted(t.String())), remedy)
	case n < 0 || n > 100:
		p.mistake(t.whole(), fmt.Sprintf("density: %d%% is out of range", n), remedy)
	}
	return n
}

func (p *exerciseParser) grid(t text, m Meter) Grid {
	var names []string
	for i := range grids {
		g := Grid(i)
		if g.String() == t.String() {
			p.gridFits(t, g, m)
			return g
		}
		names = append(names, g.String())
	}
	p.mistake(t.whole(), quoted(t.String())+" is no grid", didYouMean(t.String(), names, "the grids are"))
	return Eighths
}

// gridFits notes a grid whose slots do not lie in the meter.
func (p *exerciseParser) gridFits(t text, g Grid, m Meter) {
	switch {
	case m == Meter{}:
	case g == Triplets && m.Compound():
		p.mistake(t.whole(), fmt.Sprintf("the beat of %s has three eighths already; triplets do not fit it", m), "use eighths")
	case m.Bar()%g.Ticks() != 0:
		p.mistake(t.whole(), fmt.Sprintf("%s do not fill a bar of %s", g, m), "use eighths or sixteenths")
	}
}

func (p *exerciseParser) pitch(t text) *theory.Pitch {
	pitch, err := theory.ParsePitch(t.String())
	if err != nil || tooLong(t) {
		p.mistake(t.whole(), quoted(t.String())+" is not a pitch", "write a note name and an octave, as in: C4")
		return nil
	}
	return &pitch
}

func (p *exerciseParser) guitar(f field, e *Exercise) {
	fields := p.mappingOf(f, guitarKeys)
	if tuning, ok := fields["tuning"]; ok {
		e.Neck.Tuning = p.tuning(tuning)
	}
	p.read(fields, "capo", func(t text) { e.Neck.Capo = p.whole(t, "capo", 0, neck.MaxCapo) })
	p.read(fields, "position", func(t text) { e.Position = p.position(t, e.Neck) })
}

// tuning reads the open strings' pitches, as a list or as one text.
func (p *exerciseParser) tuning(f field) neck.Tuning {
	var names []text
	for _, t := range p.items(f) {
		names = append(names, t.words()...)
	}
	if len(names) == 0 {
		return nil
	}
	pitches := make([]string, len(names))
	before := len(p.mistakes)
	for i, name := range names {
		if pitch := p.pitch(name); pitch != nil {
			pitches[i] = pitch.String()
		}
	}
	if len(p.mistakes) > before {
		return nil
	}
	tuning, err := neck.ParseTuning(strings.Join(pitches, " "))
	if err != nil {
		p.mistake(names[0].whole().through(names[len(names)-1].whole()), err.Error(), "list the open strings, the lowest first, as in: "+neck.Standard().String())
	}
	return tuning
}

func (p *exerciseParser) position(t text, n neck.Neck) neck.Position {
	position, err := neck.ParsePosition(t.String())
	if err == nil && n.Capo >= 0 && n.Capo <= neck.MaxCapo {
		err = n.CheckPosition(position)
	}
	if err != nil {
		p.mistake(t.whole(), shortenQuotes(err, t), "use open, free or a fret that a hand can start from")
	}
	return position
}

func (p *exerciseParser) strum(t text, m Meter) []StrumSign {
	const remedy = "use D for a down-stroke, U for an up-stroke, - for none"
	var strum []StrumSign
	strokes, known := 0, true
	for _, word := range t.words() {
		for i, r := range word.runes {
			if !strings.ContainsRune("DU-", r) {
				p.mistake(word.part(i, i+1), quoted(string(r))+" is no sign of a strum", remedy)
				known = false
				continue
			}
			strum = append(strum, StrumSign(r))
			if r != rune(Ring) {
				strokes++
			}
		}
	}
	switch {
	case !known:
	case strokes == 0:
		p.mistake(t.whole(), "the strum has no stroke", remedy)
	case len(strum) > maxSigns, m != Meter{} && m.Bar()%len(strum) != 0:
		p.mistake(t.whole(), fmt.Sprintf("a strum of %d signs does not divide a bar of %s evenly", len(strum), m),
			"write one sign a slot, with the same number of slots for each beat")
	}
	return strum
}

// tooLong reports whether a text is longer than any name of music, so that it
// need not be read and is not quoted in full.
func tooLong(t text) bool { return len(t.runes) > 40 }

func shortenQuotes(err error, t text) string {
	if tooLong(t) {
		return quoted(t.String()) + " is no position"
	}
	return err.Error()
}

func contains(names []string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return false
}
