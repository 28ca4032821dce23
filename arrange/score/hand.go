package score

import "math/rand/v2"

// Velocities of what is played, 1 to 127. Our own, by ear.
const (
	downVelocity    = 84 // a down-stroke with which a chord begins
	strumVelocity   = 76
	upVelocity      = 66
	pickVelocity    = 80
	dampedVelocity  = 62
	arrivalVelocity = 100
	passingVelocity = 86
	bassVelocity    = 84
	accent          = 16 // more on a stroke that is written so
	backbeat        = 9  // more on two and four, where a bar has four beats
	belowGuide      = 62 // per cent of its velocity for a string that sounds what the guide begins with it
)

// How far a hand strays from what it means to play, either way: velocities, and seconds.
// The guide is to be played along with, and keeps its time exactly. Our own, by ear.
const (
	strumSway  = 4
	guideSway  = 3
	bassSway   = 4
	strumLate  = 0.003
	stringLate = 0.0012
	bassLate   = 0.003
)

// The time in seconds that a stroke takes from its first string to its last, the same at
// every tempo: two strings, and each that is more; and how far it strays. Where strokes
// follow each other too soon for that it takes two thirds of the time to the next.
const (
	spreadOfTwo  = 0.031
	spreadOfMore = 0.004
	spreadStray  = 0.004
)

// damped is how long a damped stroke sounds, in seconds.
const damped = 0.05

// missedStroke is one in how many strokes in which a string is missed.
const missedStroke = 14

// A hand plays what is written a little differently each time: as chance has it, and
// always the same where the same is played again.
type hand struct{ luck *rand.Rand }

// handAt returns the hand that plays a part's notes on a tick of the score in the pass.
func (p *player) handAt(tick int, part Part) hand {
	return hand{rand.New(rand.NewPCG(uint64(tick)<<8|uint64(part), uint64(p.pass)))}
}

// around returns a velocity, or one a little more or less.
func (h hand) around(velocity, sway int) int {
	return min(127, max(1, velocity+h.luck.IntN(2*sway+1)-sway))
}

// off returns by how many ticks a note strays from its time, by so many seconds at most.
func (h hand) off(seconds float64, quarterMicros int) int {
	return ticks(seconds*(2*h.luck.Float64()-1), quarterMicros)
}

// spread returns the ticks that a stroke across some strings takes, where the next
// comes after some ticks.
func (h hand) spread(strings, quarterMicros, room int) int {
	if strings < 2 {
		return 0
	}
	seconds := spreadOfTwo + spreadOfMore*float64(strings-2) + spreadStray*(2*h.luck.Float64()-1)
	return min(ticks(seconds, quarterMicros), room*2/3)
}

// missed returns the notes of a stroke, now and then without one of them: never the
// first, and never of few.
func (h hand) missed(notes []StrumNote) []StrumNote {
	if h.luck.IntN(missedStroke) > 0 || len(notes) < 4 {
		return notes
	}
	out := 1 + h.luck.IntN(len(notes)-1)
	return append(notes[:out:out], notes[out+1:]...)
}
