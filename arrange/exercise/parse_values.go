package exercise

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

func (p *exerciseParser) title(t text) string {
	s := t.String()
	if strings.ContainsRune(s, '\n') {
		p.mistake(t.whole(), "the title has more than one line", "write it in one")
	}
	if n := utf8.RuneCountInString(s); n > maxTitle {
		p.mistake(t.whole(), fmt.Sprintf("the title has %d characters", n), fmt.Sprintf("use at most %d", maxTitle))
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

func (p *exerciseParser) meter(t text) meter.Meter {
	var names []string
	for _, m := range meter.Meters() {
		if m.String() == t.String() {
			return m
		}
		names = append(names, m.String())
	}
	p.mistake(t.whole(), quoted(t.String())+" is no meter known here", "use one of "+strings.Join(names, ", "))
	return meter.Meter{}
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
func (p *exerciseParser) tempos(f field) (tempos []int, spans []Span) {
	items := p.items(f)
	seen := map[int]bool{}
	for _, t := range items {
		before := len(p.mistakes)
		n := p.whole(t, "tempo", minTempo, maxTempo)
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

// climb reads by how much the rising practice track goes up each time.
func (p *exerciseParser) climb(t text, tempos []int) int {
	climb := p.whole(t, "beats a minute of climb", 1, maxClimb)
	if len(tempos) == 1 {
		p.mistake(t.whole(), "there is but one tempo, and nothing to climb to", "list two tempos or more, or leave climb out")
	}
	return climb
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

func (p *exerciseParser) feel(t text, m meter.Meter) meter.Feel {
	switch t.String() {
	case meter.Straight.String():
		return meter.Straight
	case meter.Swing.String():
		if m != (meter.Meter{}) && m.Beat() != meter.Quarter {
			p.mistake(t.whole(), fmt.Sprintf("%s has no quarter beats to swing", m), "use straight, or a meter such as 4/4")
		}
		return meter.Swing
	}
	p.mistake(t.whole(), quoted(t.String())+" is no feel", "use straight or swing")
	return meter.Straight
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

func (p *exerciseParser) grid(t text, m meter.Meter) meter.Grid {
	var names []string
	for _, g := range meter.Grids() {
		if g.String() == t.String() {
			p.gridFits(t, g, m)
			return g
		}
		names = append(names, g.String())
	}
	p.mistake(t.whole(), quoted(t.String())+" is no grid", didYouMean(t.String(), names, "the grids are"))
	return meter.Eighths
}

// gridFits notes a grid whose slots do not lie in the meter.
func (p *exerciseParser) gridFits(t text, g meter.Grid, m meter.Meter) {
	switch {
	case m == meter.Meter{}:
	case g == meter.Triplets && m.Compound():
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
	const remedy = "use open, free or a fret that a hand can start from"
	if tooLong(t) {
		p.mistake(t.whole(), quoted(t.String())+" is no position", remedy)
		return neck.Lowest
	}
	position, err := neck.ParsePosition(t.String())
	if err == nil && n.Capo >= 0 && n.Capo <= neck.MaxCapo {
		err = n.CheckPosition(position)
	}
	if err != nil {
		p.mistake(t.whole(), err.Error(), remedy)
	}
	return position
}

func (p *exerciseParser) strum(t text, m meter.Meter) []StrumSign {
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
	case len(strum) > maxSigns, m != meter.Meter{} && m.Bar()%len(strum) != 0:
		p.mistake(t.whole(), fmt.Sprintf("a strum of %d signs does not divide a bar of %s evenly", len(strum), m),
			"write one sign a slot, with the same number of slots for each beat")
	}
	return strum
}

// tooLong reports whether a text is longer than any name of music, so that it
// need not be read and is not quoted in full.
func tooLong(t text) bool { return len(t.runes) > 40 }
