package smf

import (
	"math"

	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"

	"thirdwise/arrange/score"
)

// A balance is what a part's channel volume and pan are set to (MIDI 1.0: controllers 7
// and 10, 0 to 127, a pan of 64 being the middle).
type balance struct{ volume, pan uint8 }

// The balance of the parts. Pans are those of the audio; volumes are those with which
// a free General MIDI sound font, played by fluidsynth, has the loudness of the audio's
// parts against each other within 3 LU (.ci/checks/timbre measures it).
var (
	clickBalance  = balance{127, 64}
	chordsBalance = balance{100, 45}
	guideBalance  = balance{107, 83}
	bassBalance   = balance{118, 64}
)

// The controllers of General MIDI level 1 that are used, and the value that leaves a
// channel's expression as it is.
const (
	volumeController     = 7
	panController        = 10
	expressionController = 11
	fullExpression       = 127
)

// The groove is on the click's channel, which has one volume: its strokes are made so much
// harder or softer, per cent, that it is about as loud as in the audio.
const (
	shakerVelocity = 82
	brushVelocity  = 132
)

// grooveVelocity returns the velocity of a stroke of the groove.
func grooveVelocity(stroke score.PercussionStroke) int {
	per := shakerVelocity
	if stroke.Sound == score.Sweep || stroke.Sound == score.Tap {
		per = brushVelocity
	}
	return min(127, max(1, stroke.Velocity*per/100))
}

// balance sets the part's volume and place.
func (t *track) balance(b balance) {
	t.add(0, midifile.Message(midi.ControlChange(t.channel, volumeController, b.volume)))
	t.add(0, midifile.Message(midi.ControlChange(t.channel, panController, b.pan)))
	t.add(0, midifile.Message(midi.ControlChange(t.channel, expressionController, fullExpression)))
}

// fadeSteps is in how many steps the last sounds fade away.
const fadeSteps = 24

// fade lets the performance's last sounds fade away in two thirds of the time that they
// ring on, along a cosine as the audio does. A player's amplitude goes with the square
// of a controller (General MIDI level 2 and common practice).
func (t *track) fade(p *score.Performance) {
	if p.End <= p.Length {
		return
	}
	length := (p.End - p.Length) * 2 / 3
	for i := 1; i <= fadeSteps; i++ {
		amplitude := 0.5 + 0.5*math.Cos(math.Pi*float64(i)/fadeSteps)
		value := uint8(math.Round(fullExpression * math.Sqrt(amplitude)))
		t.add(p.End-length+length*i/fadeSteps, midifile.Message(midi.ControlChange(t.channel, expressionController, value)))
	}
}
