package score

import (
	"cmp"
	"slices"

	"thirdwise/theory/meter"
)

// strumSpread is the time between two strings of a strum, in ticks: 10 ms at 60
// beats a minute, 6 ms at 100. A quicker tempo has a quicker hand.
const strumSpread = 5

// Velocities of what is played, 1 to 127.
const (
	accentVelocity  = 112 // the click's first beat
	beatVelocity    = 88
	pulseVelocity   = 56 // between the beats of a compound meter
	downVelocity    = 84 // a down-strum on the first beat
	strumVelocity   = 76
	upVelocity      = 66
	arrivalVelocity = 100
	passingVelocity = 86
	bassVelocity    = 84
)

// Perform returns the score as it is played at a tempo in beats a minute: the
// count-in, the pickup if there is one, then every pass. In the last pass nothing
// leads back to the beginning: the last chord is struck once, its arrival is held,
// and both ring on for a beat.
func (s *Score) Perform(tempo int) *Performance {
	return s.perform(round{tempo: tempo, lead: s.CountIn, pickup: s.Pickup, passes: s.Passes, ends: true})
}

// Loop returns the chart once at a tempo in beats a minute, without count-in,
// pickup and end, so that it can be repeated for ever.
func (s *Score) Loop(tempo int) *Performance {
	return s.perform(round{tempo: tempo, passes: 1})
}

// Climbing returns the climb: the chart once at the lowest of the
// score's tempos, once a little faster, and so on by s.Climb beats a minute up
// to the highest. A bar of click in the new tempo leads into each. It returns
// nil where s.Climb is 0 or there is but one tempo.
func (s *Score) Climbing() *Performance {
	from, to := slices.Min(s.Tempos), slices.Max(s.Tempos)
	if s.Climb == 0 || from == to {
		return nil
	}
	rounds := []round{{tempo: from, lead: s.CountIn, pickup: s.Pickup, passes: 1, ends: true}}
	for tempo := from; tempo < to; {
		tempo = min(tempo+s.Climb, to)
		rounds = append(rounds, round{tempo: tempo, lead: 1, passes: 1, ends: true})
	}
	return s.perform(rounds...)
}

// A round is a stretch of a performance at one tempo.
type round struct {
	tempo  int  // beats a minute
	lead   int  // bars of click before it
	pickup bool // the first pass begins with the pickup
	passes int  // times through the chart
	ends   bool // the last pass comes to an end, instead of leading on
}

func (s *Score) perform(rounds ...round) *Performance {
	p := &Performance{}
	bar := s.Meter.Bar()
	pass := 0
	times := map[int]int{} // that the bar of a number has been played
	for _, r := range rounds {
		p.Tempos = append(p.Tempos, TempoChange{Tick: p.Length, QuarterMicros: s.Meter.QuarterMicros(r.tempo)})
		p.Length += r.lead * bar
		for left := r.passes; left > 0; left-- {
			pass++
			one := player{score: s, into: p, start: p.Length, pass: pass, last: r.ends && left == 1}
			if s.Pickup && !(r.pickup && left == r.passes) {
				one.from = bar
				one.start -= bar
			}
			one.bars(times)
			one.notes()
			p.Length += s.Length() - one.from
		}
	}
	for tick := 0; tick < p.Length; tick += bar {
		p.Click = append(p.Click, click(s.Meter, tick)...)
	}
	slices.SortStableFunc(p.Notes, func(a, b Note) int { return cmp.Compare(a.Tick, b.Tick) })
	return p
}

// click returns the strokes of a bar of click: one accented, then each beat, and
// in compound meters the pulses between.
func click(m meter.Meter, start int) []ClickStroke {
	strokes := []ClickStroke{{Tick: start, Accent: true, Velocity: accentVelocity}}
	beats := m.BeatStarts()
	for tick := m.UnitTicks(); tick < m.Bar(); tick += m.UnitTicks() {
		velocity := pulseVelocity
		if slices.Contains(beats, tick) {
			velocity = beatVelocity
		}
		strokes = append(strokes, ClickStroke{Tick: start + tick, Velocity: velocity})
	}
	return strokes
}

// A player plays one pass of a score into a performance.
type player struct {
	score *Score
	into  *Performance
	start int // tick of the performance at which the score's first tick is played, or would be
	from  int // tick of the score with which the pass begins: bar one's, without the pickup
	pass  int
	last  bool // nothing comes after this pass
}

// bars lists the bars of the pass. Each has a label by how often the bars of its
// number have been played, which is counted on.
func (p *player) bars(times map[int]int) {
	for i, b := range p.score.Bars {
		if b.Tick < p.from {
			continue
		}
		times[b.Number]++
		p.into.Bars = append(p.into.Bars, PlayedBar{
			Tick: p.start + b.Tick, Index: i, Pass: p.pass, Label: BarLabel(b.Number, times[b.Number]),
		})
	}
}

// notes plays all parts.
func (p *player) notes() {
	before := len(p.into.Notes)
	p.guide()
	p.chords()
	p.bass()
	played := slices.DeleteFunc(p.into.Notes[before:], func(n Note) bool { return n.Tick < p.at(p.from) })
	p.into.Notes = p.into.Notes[:before+len(played)]
}

// at returns the tick of the performance at which a written tick is played.
func (p *player) at(tick int) int { return p.start + p.score.Feel.Played(tick) }

// end returns the tick of the performance at which a sound ends that is written
// to end on a tick. At the very end it rings on for a beat.
func (p *player) end(tick int) int {
	if p.last && tick == p.score.Length() {
		return p.at(tick) + p.score.Meter.Beat()
	}
	return p.at(tick)
}

// guide plays the line's two voices.
func (p *player) guide() {
	thirds := p.score.Line
	if p.last {
		thirds = withoutWayBack(thirds)
	}
	for _, t := range thirds {
		note := Note{Tick: p.at(t.Tick), Velocity: passingVelocity, Pass: p.pass}
		note.Length = p.end(t.Tick+t.Length) - note.Tick
		if t.Role == Arrival {
			note.Velocity = arrivalVelocity
		}
		note.Part, note.Pitch, note.Place = GuideUpper, t.Notes.Upper, t.Places.Upper
		p.into.Notes = append(p.into.Notes, note)
		note.Part, note.Pitch, note.Place = GuideLower, t.Notes.Lower, t.Places.Lower
		p.into.Notes = append(p.into.Notes, note)
	}
}

// withoutWayBack returns the line as the last pass has it: what leads back to
// the beginning left out, the last arrival held instead.
func withoutWayBack(thirds []Third) []Third {
	back := slices.IndexFunc(thirds, func(t Third) bool { return t.LeadsBack })
	if back < 0 {
		return thirds
	}
	end := thirds[len(thirds)-1].Tick + thirds[len(thirds)-1].Length
	thirds = slices.Clone(thirds[:back])
	last := &thirds[back-1]
	last.Length = end - last.Tick
	return thirds
}

// bass plays the bass part.
func (p *player) bass() {
	notes := p.score.Bass
	if p.last {
		notes = p.heldAtEnd(notes)
	}
	for _, n := range notes {
		tick := p.at(n.Tick)
		p.into.Notes = append(p.into.Notes, Note{
			Tick: tick, Length: p.end(n.Tick+n.Length) - tick, Pitch: n.Pitch, Place: n.Place,
			Velocity: bassVelocity, Part: Bass, Pass: p.pass,
		})
	}
}

// heldAtEnd returns the bass part as the last pass has it: the first note of the
// last chord held to the end.
func (p *player) heldAtEnd(notes []BassNote) []BassNote {
	bars := p.score.Bars
	spans := bars[len(bars)-1].Chords
	start := spans[len(spans)-1].Tick
	held := slices.IndexFunc(notes, func(n BassNote) bool { return n.Tick == start })
	if held < 0 {
		return notes
	}
	notes = slices.Clone(notes[:held+1])
	notes[held].Length = p.score.Length() - start
	return notes
}

// chords strums every chord of the pass.
func (p *player) chords() {
	strums := p.score.Strums
	for _, bar := range p.score.Bars {
		for _, span := range bar.Chords {
			end := span.Tick + span.Length
			n := 0
			for n < len(strums) && strums[n].Tick < end {
				n++
			}
			own := strums[:n]
			strums = strums[n:]
			if p.last && end == p.score.Length() && n > 1 {
				own = own[:1]
			}
			p.chord(own, end)
		}
	}
}

// chord plays the strokes of one chord. A string rings until it is struck again
// or the hand moves at the chord's end.
func (p *player) chord(strums []Strum, end int) {
	sounding := map[int]int{} // by string, index into the performance's notes
	for i, stroke := range strums {
		velocity := strumVelocity
		switch {
		case stroke.Up:
			velocity = upVelocity
		case i == 0:
			velocity = downVelocity
		}
		played := p.at(stroke.Tick+stroke.Length) - p.at(stroke.Tick)
		spread := min(strumSpread, played/(2*len(stroke.Notes)))
		for j, n := range stroke.Notes {
			tick := p.at(stroke.Tick) + j*spread
			if before, ok := sounding[n.String]; ok {
				p.into.Notes[before].Length = tick - p.into.Notes[before].Tick
			}
			sounding[n.String] = len(p.into.Notes)
			p.into.Notes = append(p.into.Notes, Note{
				Tick: tick, Length: p.end(end) - tick, Pitch: n.Pitch, Place: n.Place,
				Velocity: velocity, Part: Chords, Pass: p.pass,
			})
		}
	}
}
