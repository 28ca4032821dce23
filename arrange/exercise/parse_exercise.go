package exercise

import (
	"fmt"

	"github.com/goccy/go-yaml/ast"

	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// Limits of an exercise.
const (
	maxTitle   = 200 // characters
	minTempo   = 20  // beats a minute
	maxTempo   = 400
	maxPasses  = 100
	maxCountIn = 8  // bars
	maxClimb   = 50 // beats a minute
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
		Meter:   meter.Meter{Beats: 4, Unit: 4},
		Passes:  2,
		Tempos:  []int{60, 80, 100},
		CountIn: 1,
		Line:    LineSettings{Density: 50, Grid: meter.Eighths},
		Neck:    neck.Neck{Tuning: neck.Standard()},
	}
}

// exercise reads the whole mapping. What other fields depend on comes first. A
// key that cannot be read becomes C major and a meter the zero Meter, so that the
// rest is still checked.
func (p *exerciseParser) exercise(root *ast.MappingNode) *Exercise {
	fields := p.fields(root, exerciseKeys)
	for _, name := range requiredKeys {
		if _, ok := fields[name]; !ok && !p.misspelt(root, name) {
			p.mistake(Span{p.nodeSpan(root).Pos, 0}, "the exercise has no "+name, "add a line that begins with "+name+":")
		}
	}
	e := defaults()
	p.read(fields, "title", func(t text) { e.Title = p.title(t) })
	p.read(fields, "key", func(t text) { e.Key = p.key(t) })
	p.read(fields, "meter", func(t text) { e.Meter = p.meter(t) })
	p.read(fields, "chart", func(t text) { e.Chart = p.chart(t, e.Key, e.Meter) })
	p.read(fields, "passes", func(t text) { e.Passes = p.whole(t, "passes", 1, maxPasses) })
	if f, ok := fields["tempos"]; ok {
		e.Tempos, e.tempoSpans = p.tempos(f)
	}
	p.read(fields, "climb", func(t text) { e.Climb = p.climb(t, e.Tempos) })
	p.read(fields, "count-in", func(t text) { e.CountIn = p.whole(t, "bars of count-in", 1, maxCountIn) })
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

func (p *exerciseParser) guitar(f field, e *Exercise) {
	fields := p.mappingOf(f, guitarKeys)
	if tuning, ok := fields["tuning"]; ok {
		e.Neck.Tuning = p.tuning(tuning)
	}
	p.read(fields, "capo", func(t text) { e.Neck.Capo = p.whole(t, "capo", 0, neck.MaxCapo) })
	p.read(fields, "position", func(t text) { e.Position = p.position(t, e.Neck) })
}
