package synth

import (
	"fmt"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/desk"
	"thirdwise/synth/exact"
	"thirdwise/synth/room"
)

// Parts makes the parts of a performance apart from each other, a few frames at a
// time, for a player that mixes them as it sounds: what is a mix in a file is the
// sum of its parts there. Two goroutines must not use it at once.
type Parts struct {
	performance *score.Performance
	roll        *roll
	gain        float32
}

// NewParts lays a performance out at a rate of 44,100 or 48,000 samples a second
// and a gain in dB, which a kit's [Result] tells. Loop is as a [Track] has it. The
// clips may serve other parts too.
func NewParts(p *score.Performance, loop bool, rate int, gain float64, clips *Clips) (*Parts, error) {
	if err := (audiofile.Format{Rate: rate}).Check(); err != nil {
		return nil, err
	}
	return &Parts{
		performance: p,
		roll:        newRoll(Track{Performance: p, Loop: loop}, newCache(rate, clips)),
		gain:        float32(exact.Amplitude(gain)),
	}, nil
}

// Lead is how many frames before its first tick a passage begins: a hand begins some
// strokes a little before their beat.
const Lead = 2205

// A Passage is the notes of one part that are written in a bar of a performance,
// from the first of them until all have died away, in the room too. Passages one
// after another overlap; their sum is the part.
type Passage struct {
	parts  *Parts
	desk   *desk.Desk
	events [desk.Parts][]event // that have not ended, rising in start
	at     int                 // frame of the performance that is read next
	quiet  int                 // frames read since the last event ended
	sheaf  sheaf
}

// Passage returns the notes of a part that are written in a bar, an index into the
// performance's bars, which lasts some ticks. It is read from Lead frames before the
// bar's first tick on.
func (p *Parts) Passage(part score.Part, bar, length int) (*Passage, error) {
	for _, m := range score.Mixes() {
		if !slices.Equal(m.Parts(), []score.Part{part}) {
			continue
		}
		rate := p.roll.cache.rate
		tick := p.performance.Bars[bar].Tick
		first, last := p.performance.Sample(tick, rate), p.performance.Sample(tick+length, rate)
		passage := &Passage{parts: p, at: first - Lead, desk: desk.New(m, &room.Small, rate)}
		for _, sounding := range passage.desk.Parts() {
			for _, e := range p.roll.parts[sounding].events {
				own := e.bar == bar && e.start >= first-Lead
				if part == score.Click || part == score.Groove { // which are never early
					own = e.start >= first
				}
				if own && e.start < last {
					e.gain *= p.gain
					passage.events[sounding] = append(passage.events[sounding], e)
				}
			}
		}
		return passage, nil
	}
	return nil, fmt.Errorf("no mix is part %d alone", part)
}

// Read fills left and right, of the same length, with the next frames, and
// reports whether there are any: false is the end.
func (g *Passage) Read(left, right []float32) bool {
	over := !slices.ContainsFunc(g.events[:], func(left []event) bool { return len(left) > 0 })
	if over && g.quiet >= room.Small.Reach(g.parts.roll.cache.rate) {
		return false
	}
	frames := len(left)
	if over {
		g.quiet += frames
	}
	for _, p := range g.desk.Parts() {
		g.sheaf.buffers[p] = resized(g.sheaf.buffers[p], frames)
		dry := g.sheaf.buffers[p]
		clear(dry)
		g.events[p] = slices.DeleteFunc(g.events[p], func(e event) bool {
			return e.start < g.at+frames && g.parts.roll.play(dry, e, g.at) <= g.at+frames
		})
		g.sheaf.parts[p] = dry
	}
	g.desk.Mix(left, right, &g.sheaf.parts)
	g.parts.roll.fade(left, right, g.at)
	g.at += frames
	return true
}
