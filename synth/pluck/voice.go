package pluck

import (
	"math"
	"math/cmplx"
)

// highest is the highest frequency of a partial as a share of the sample rate.
const highest = 0.45

// A voice is a guitar and the hand that plays it. The values of the voices are
// our own, by ear, where no source stands beside them.
type voice struct {
	strings  []gauge
	scale    float64 // speaking length of an open string, m
	body     body
	pluck    float64 // distance of the plectrum from the bridge, m
	plectrum float64 // width of the plectrum at full velocity, m
	soft     float64 // how much wider a plectrum seems at the lowest velocity, a factor
	tilt     float64 // share of the pluck that is across the top, 0 to 1: it rings longer
	bridge   float64 // what the bridge takes from the motion towards it, 1/s
}

// The bodies: a steel-string guitar, a classical one, an electric bass.
//
// A guitar's narrow resonances stand in the round numbers of the handbooks: the
// air at 100 Hz, the top plate at 190, 270 and 390 Hz, Q between 15 and 40
// (Fletcher and Rossing, ch. 9; from memory). The last two rows, broad, stand for
// the many modes above and between, too dense to be told apart. A bass has no
// others. The gains are our own, by ear.
var (
	flatTop = body{
		// Hz  Q   gain
		{100, 18, 0.70},
		{190, 22, 0.80},
		{270, 28, 0.60},
		{390, 32, 0.50},
		{300, 0.7, 0.70},
		{1500, 0.7, 0.60},
	}
	classical = body{
		{98, 16, 0.70},
		{188, 18, 0.80},
		{280, 25, 0.60},
		{395, 30, 0.50},
		{350, 0.7, 0.80},
		{1700, 0.7, 0.60},
	}
	solid = body{
		{100, 0.7, 0.80},
		{700, 0.7, 0.70},
	}
)

// voices are the guitars of a performance.
var voices = [...]voice{
	ChordsGuitar: {
		strings: steel, scale: 0.65, body: flatTop,
		pluck: 0.15, plectrum: 0.006, soft: 3,
		tilt: 0.35, bridge: 2.5,
	},
	GuideGuitar: {
		strings: nylon, scale: 0.65, body: classical,
		pluck: 0.12, plectrum: 0.004, soft: 3,
		tilt: 0.40, bridge: 2.0,
	},
	BassGuitar: {
		strings: bassSteel, scale: 0.864, body: solid,
		pluck: 0.17, plectrum: 0.015, soft: 2,
		tilt: 0.40, bridge: 1.0,
	},
}

// modes returns the modes of a note: a MIDI key, stopped at a fret, plucked with
// a velocity of 1 to 127. The rate in Hz bounds the partials.
func (v voice) modes(key, fret, velocity, rate int) Modes {
	g := gaugeFor(v.strings, key-fret)
	length := v.scale * math.Exp2(-float64(fret)/12)
	first := 440 * math.Exp2(float64(key-69)/12)
	wide := v.plectrum * (1 + (v.soft-1)*(1-float64(velocity)/127))

	var force Modes
	g.partials(first, length, highest*float64(rate), func(n int, frequency, decay float64) {
		p := float64(n) * math.Pi / length
		strength := math.Sin(p*v.pluck) / float64(n) * sinc(p*wide/2)
		force = append(force,
			mode{frequency, decay + v.bridge, complex(strength*(1-v.tilt), 0)},
			mode{frequency, decay, complex(strength*v.tilt, 0)})
	})
	return evened(v.body.drive(force))
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(x) / x
}

// evened scales modes so that what sounds in the first quarter of a second has the
// energy of a steady sine of amplitude 1: notes of all strings and frets are then
// about as loud as each other, as a good player makes them.
func evened(modes Modes) Modes {
	const window = 0.25 // s
	energyOf := func(a, b mode) float64 {
		decay := a.decay + b.decay
		return real(a.amplitude*cmplx.Conj(b.amplitude)) * (1 - math.Exp(-decay*window)) / (2 * decay)
	}
	var energy float64
	for i, m := range modes {
		energy += energyOf(m, m)
		if i > 0 && modes[i-1].frequency == m.frequency { // two polarisations of a partial
			energy += 2 * energyOf(m, modes[i-1])
		}
	}
	scale := complex(math.Sqrt(window/2/energy), 0)
	for i := range modes {
		modes[i].amplitude *= scale
	}
	return modes
}
