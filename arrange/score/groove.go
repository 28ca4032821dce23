package score

// A GrooveStroke is one stroke of the groove, written.
type GrooveStroke struct {
	Tick     int
	Sound    Percussion
	Strength Strength
}

// Percussion is a sound of the groove.
type Percussion int

// The sounds: a shaker moved forth and back, and brushes that sweep over a drum or tap
// it.
const (
	ShakeForth Percussion = iota
	ShakeBack
	Sweep
	Tap
)

// Instrument returns the name of what makes the sound, as an exercise writes it.
func (p Percussion) Instrument() string {
	if p == Sweep || p == Tap {
		return "brush"
	}
	return "shaker"
}

// Strength says how hard a stroke of the groove is.
type Strength int

// The strengths.
const (
	Soft Strength = iota
	Usual
	Strong
)

// grooveVelocities are the velocities of the strengths, and how far a hand strays from
// them. Our own, by ear.
var grooveVelocities = [...]int{Soft: 50, Usual: 70, Strong: 88}

const grooveSway = 5

// A PercussionStroke is one stroke of the groove as it is played: exactly on its time.
type PercussionStroke struct {
	Tick     int
	Sound    Percussion
	Velocity int // 1 to 127
}

// groove plays the groove. Where the last pass ends, its last stroke is that on which
// the last chord begins.
func (p *player) groove() {
	end := p.score.Length()
	if p.last {
		spans := p.score.Bars[len(p.score.Bars)-1].Chords
		end = spans[len(spans)-1].Tick + 1
	}
	for _, stroke := range p.score.Groove {
		if stroke.Tick < p.from || stroke.Tick >= end {
			continue
		}
		p.into.Percussion = append(p.into.Percussion, PercussionStroke{
			Tick: p.at(stroke.Tick), Sound: stroke.Sound,
			Velocity: p.handAt(stroke.Tick, Groove).around(grooveVelocities[stroke.Strength], grooveSway),
		})
	}
}
