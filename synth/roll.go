package synth

import (
	"math/rand/v2"
	"slices"
	"sort"

	"thirdwise/arrange/score"
	"thirdwise/synth/desk"
	"thirdwise/synth/mixing"
	"thirdwise/synth/pluck"
)

// A roll is a performance with its ticks turned into frames, ready to be added up
// at any place.
type roll struct {
	cache  *cache
	frames int
	loop   bool
	faded  int // frame at which the last sounds have faded away
	parts  [desk.Parts]struct {
		events []event // rising in start
		reach  int     // frames from the start of any event to its end, at most
	}
}

// An event is one note or click of a roll.
type event struct {
	start   int // frame; in a loop also below 0, for what rings on from the end
	release int // frames from the start until a finger ends it
	bar     int // of a note, index into the performance's bars of the one that it is written in
	sound   pluck.Sound
	gain    float32 // a factor: that of the velocity times that of the part
	yield   float32 // what of it gives way to the guide
}

// newRoll lays out a performance. What rings on from the end of a loop sounds at
// its beginning.
func newRoll(t Track, c *cache) *roll {
	r := &roll{cache: c, frames: t.frames(c.rate), loop: t.Loop, faded: t.end(c.rate)}
	p := t.Performance
	for _, stroke := range p.Click {
		start := p.Sample(stroke.Tick, c.rate)
		e := event{start: start, release: c.rate, gain: pluck.Gain(stroke.Velocity)}
		e.sound = pluck.Sound{Instrument: desk.SeatOf(score.Click).Instrument, Layer: pluck.Layer(stroke.Velocity)}
		if stroke.Accent {
			e.sound.Instrument = pluck.AccentBar
		}
		r.add(score.Click, e)
	}
	for _, stroke := range p.Percussion {
		e := event{start: p.Sample(stroke.Tick, c.rate), release: 4 * c.rate, gain: pluck.Gain(stroke.Velocity)}
		e.sound = pluck.Sound{Instrument: percussion[stroke.Sound], Layer: pluck.Layer(stroke.Velocity)}
		r.add(score.Groove, e)
	}
	r.liftBrush()
	last := make(map[[2]int]int) // index of the latest event of a part on a string
	for _, n := range p.Notes {
		start, end := p.Sample(n.Tick, c.rate), p.Sample(n.Tick+n.Length, c.rate)
		events := r.parts[n.Part].events
		str := [2]int{int(n.Part), n.String}
		if i, ok := last[str]; ok {
			before := &events[i]
			before.release = min(before.release, max(1, start-before.start))
		}
		last[str] = len(events)
		struck := n.Velocity + n.Yield
		gain := pluck.Gain(struck)
		r.add(n.Part, event{
			start:   start,
			release: max(1, end-start),
			bar:     n.Bar,
			sound: pluck.Sound{
				Instrument: desk.SeatOf(n.Part).Instrument,
				Key:        int8(n.Pitch.MIDI()),
				Fret:       int8(n.Fret),
				Layer:      pluck.Layer(struck),
			},
			gain:  gain,
			yield: gain - pluck.Gain(n.Velocity),
		})
	}
	for i := range r.parts {
		r.varyTakes(score.Part(i))
		r.finish(score.Part(i))
	}
	r.giveWay()
	return r
}

// percussion is what each sound of the groove is made on.
var percussion = [...]pluck.Instrument{
	score.ShakeForth: pluck.ShakerForth,
	score.ShakeBack:  pluck.ShakerBack,
	score.Sweep:      pluck.BrushSweep,
	score.Tap:        pluck.BrushTap,
}

// liftBrush ends each sweep of the brush where the next one begins.
func (r *roll) liftBrush() {
	var first, before *event
	events := r.parts[score.Groove].events
	for i := range events {
		if e := &events[i]; e.sound.Instrument == pluck.BrushSweep {
			if before != nil {
				before.release = max(1, e.start-before.start)
			}
			before = e
			if first == nil {
				first = e
			}
		}
	}
	if r.loop && before != nil {
		before.release = max(1, r.frames-before.start+first.start)
	}
}

// varyTakes chooses the take of each event of a part: never the one that the sound
// had the last time, and otherwise as chance, always the same, has it.
func (r *roll) varyTakes(p score.Part) {
	luck := rand.New(rand.NewPCG(uint64(p), pluck.Takes))
	latest := make(map[pluck.Sound]int8)
	events := r.parts[p].events
	for i := range events {
		of := events[i].sound
		take, known := latest[of]
		if known {
			take = (take + 1 + int8(luck.IntN(pluck.Takes-1))) % pluck.Takes
		} else {
			take = int8(luck.IntN(pluck.Takes))
		}
		latest[of] = take
		events[i].sound.Take = take
	}
}

func (r *roll) add(p score.Part, e event) {
	r.parts[p].events = append(r.parts[p].events, e)
}

// finish completes a part once all its events are there.
func (r *roll) finish(p score.Part) {
	part, seat := &r.parts[p], desk.SeatOf(p)
	for i := range part.events {
		e := &part.events[i]
		e.gain *= seat.Gain
		e.yield *= seat.Gain
		part.reach = max(part.reach, e.release+len(r.cache.touch))
		r.cache.expect(e.sound, e.release)
	}
	if r.loop && r.frames > 0 {
		for _, e := range part.events {
			end := e.start + e.release + len(r.cache.touch)
			for ; end > r.frames; end -= r.frames {
				e.start -= r.frames
				part.events = append(part.events, e)
			}
		}
	}
	slices.SortStableFunc(part.events, func(a, b event) int { return a.start - b.start })
}

// giveWay has the chords give way to the guide: what they yield is a part of its own,
// and takes it away.
func (r *roll) giveWay() {
	chords, yielded := &r.parts[score.Chords], &r.parts[desk.Yielded]
	yielded.reach = chords.reach
	for _, e := range chords.events {
		if e.yield > 0 {
			e.gain = -e.yield
			yielded.events = append(yielded.events, e)
		}
	}
}

// mix fills dst with the samples of a part from a frame on, and reports whether
// any event sounds in them. A loop has frames before its first and after its last,
// too.
func (r *roll) mix(dst []float32, p score.Part, from int) (sounds bool) {
	clear(dst)
	r.unroll(from, len(dst), func(from, at, frames int) {
		if r.mixWithin(dst[at:at+frames], p, from) {
			sounds = true
		}
	})
	return sounds
}

func (r *roll) mixWithin(dst []float32, p score.Part, from int) (sounds bool) {
	r.sounding(p, from, len(dst), func(e event) {
		if r.play(dst, e, from) > from {
			sounds = true
		}
	})
	return sounds
}

// play adds an event to dst, which begins at a frame, and returns the frame at
// which the event has died away; where that comes after dst, any that does.
func (r *roll) play(dst []float32, e event, from int) (end int) {
	samples := r.cache.sound(e.sound).Samples
	last := min(e.release, len(samples))
	mixing.AddAt(dst, samples[:last], e.start-from, e.gain)
	end = e.start + last
	switch {
	case last < e.release:
		return end
	case end >= from+len(dst):
		return end + 1
	}
	ending := samples[last:min(last+len(r.cache.touch), len(samples))]
	mixing.DampAt(dst, ending, r.cache.touch, end-from, e.gain)
	return end + len(ending)
}

// fades reports whether a track begins to fade away before a frame.
func (r *roll) fades(end int) bool { return !r.loop && end > r.faded-len(r.cache.fading) }

// fade fades the end of a track, left and right beginning at a frame: the last sounds
// go on as they are at first, and then away as the ear likes it.
func (r *roll) fade(left, right []float32, at int) {
	if !r.fades(at + len(left)) {
		return
	}
	for i := range left {
		switch rest := r.faded - at - i; {
		case rest <= 0:
			left[i], right[i] = 0, 0
		case rest < len(r.cache.fading):
			left[i] *= r.cache.fading[rest]
			right[i] *= r.cache.fading[rest]
		}
	}
}

// unroll calls yield with the stretches of the roll that some frames from a frame
// on are: one, but for a loop's that lie across its seam. Each has its first
// frame, its place among those asked for, and its length.
func (r *roll) unroll(from, frames int, yield func(from, at, frames int)) {
	if !r.loop || r.frames == 0 {
		yield(from, 0, frames)
		return
	}
	for at := 0; at < frames; {
		start := (from + at) % r.frames
		if start < 0 {
			start += r.frames
		}
		n := min(frames-at, r.frames-start)
		yield(start, at, n)
		at += n
	}
}

// sounding calls yield with the events of a part that may sound in some frames
// from a frame on, in the order of their starts.
func (r *roll) sounding(p score.Part, from, frames int, yield func(event)) {
	part := &r.parts[p]
	first := sort.Search(len(part.events), func(i int) bool {
		return part.events[i].start > from-part.reach
	})
	for _, e := range part.events[first:] {
		if e.start >= from+frames {
			return
		}
		if e.start+e.release+len(r.cache.touch) > from {
			yield(e)
		}
	}
}
