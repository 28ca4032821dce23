package score

import (
	"cmp"
	"math"
	"slices"

	"thirdwise/theory/meter"
)

// Velocities of the click, 1 to 127.
const (
	accentVelocity = 112 // one
	beatVelocity   = 88
	pulseVelocity  = 56 // between the beats of a compound meter
)

// Seconds of a performance that are not in the score.
const (
	leadIn = 0.5 // of silence before the first click: some wireless headphones swallow the first sound
	ringOn = 3.0 // in which the last chord dies away
)

// Perform returns the score as it is played at a tempo in beats a minute: half a
// second of silence, the count-in, the pickup if there is one, then every pass. In
// the last pass nothing leads back to the beginning: the last chord is struck once,
// its arrival is held, and both ring on for three seconds and fade.
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
	if rounds[0].lead > 0 {
		// A whole bar, so that bars stay whole in the MIDI file, and a quick one.
		p.Tempos = append(p.Tempos, TempoChange{QuarterMicros: int(leadIn * 1e6 * meter.Quarter / float64(bar))})
		p.Length = bar
	}
	p.Notes = make([]Note, 0, s.notesOf(rounds))
	pass := 0
	times := map[int]int{} // that the bar of a number has been played
	sounding := map[voice]int{}
	beats := s.Meter.BeatStarts()
	for i, r := range rounds {
		micros := s.Meter.QuarterMicros(r.tempo)
		p.Tempos = append(p.Tempos, TempoChange{Tick: p.Length, QuarterMicros: micros})
		if r.lead > 0 {
			p.CountIns = append(p.CountIns, p.Length)
		}
		begins := p.Length
		p.Length += r.lead * bar
		clicks := p.Length // where the click ends
		if r.pickup {
			clicks += bar
		}
		for left := r.passes; left > 0; left-- {
			pass++
			one := player{
				score: s, into: p, start: p.Length, pass: pass, last: r.ends && left == 1,
				micros: micros, beats: beats, ring: s.Meter.Beat(), sounding: sounding,
			}
			if i == len(rounds)-1 {
				one.ring = ticks(ringOn, micros)
			}
			if s.Pickup && !(r.pickup && left == r.passes) {
				one.from = bar
				one.start -= bar
			}
			one.bars(times)
			one.notes()
			p.Length += s.Length() - one.from
		}
		if !s.ClickEnds {
			clicks = p.Length
		}
		for tick := begins; tick < clicks; tick += bar {
			p.Click = append(p.Click, click(s.Meter, tick)...)
		}
	}
	p.End = p.Length
	if last := rounds[len(rounds)-1]; last.ends {
		p.End += ticks(ringOn, s.Meter.QuarterMicros(last.tempo))
	}
	for i := range p.Notes {
		if n := &p.Notes[i]; n.Tick < 0 { // a loop's first stroke begins before the beat
			n.Tick += p.Length
		}
	}
	slices.SortStableFunc(p.Notes, func(a, b Note) int { return cmp.Compare(a.Tick, b.Tick) })
	return p
}

// notesOf returns how many notes rounds have at most, strings that are missed included.
func (s *Score) notesOf(rounds []round) int {
	once := 2*len(s.Line) + len(s.Bass)
	for _, stroke := range s.Strums {
		once += len(stroke.Notes)
	}
	passes := 0
	for _, r := range rounds {
		passes += r.passes
	}
	return once * passes
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

// ticks returns the ticks nearest to some seconds at a tempo.
func ticks(seconds float64, quarterMicros int) int {
	return int(math.Round(seconds * 1e6 * meter.Quarter / float64(quarterMicros)))
}
