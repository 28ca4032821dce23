package pluck

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"thirdwise/synth/exact"
)

// highest is the highest frequency of a partial as a share of the sample rate.
const highest = 0.45

// A voice is a guitar and the hand that plays it. The values of the voices are
// our own, by ear and by measuring, where no source stands beside them.
type voice struct {
	strings []gauge
	scale   float64 // speaking length of an open string, m
	body    body
	point   float64 // distance of the plectrum from the bridge, m
	width   float64 // of the plectrum where it touches the string, m
	slip    float64 // Hz: what the string leaves the plectrum too slowly for, at full velocity
	soft    float64 // the same at the lowest velocity
	slant   float64 // share of the pluck that is along the plate, 0 to 1: it rings longer
	bridge  float64 // what the bridge takes from the motion towards the plate, 1/s, for an open string of 185 N/m
	split   float64 // by how much the two motions differ in pitch, from the second partial on, a factor
	noise   scratch
}

// The bodies: a steel-string guitar, a classical one, an electric bass.
//
// A guitar's narrow resonances stand in the round numbers of the handbooks: the
// air at 100 Hz, the top plate at 190, 270 and 390 Hz, Q between 15 and 40
// (Fletcher and Rossing, ch. 9; from memory). A broad row fills what lies between
// them, and a crowd all above. The steel-string guitar's hands on little at 2 kHz and much
// at 8, as a sampled one does (.ci/checks/timbre); the values are our own.
var (
	flatTop = bodyOf([]resonance{
		// Hz  Q   towards along yield
		{100, 18, 0.45, 0.15, 0.6},
		{190, 22, 0.40, 0.15, 1.0},
		{270, 28, -0.35, 0.20, 0.8},
		{390, 32, 0.40, -0.20, 0.9},
		{350, 0.7, 0.30, 0.20, 0.8},
	}, crowd{
		from: 450, to: 16000, spacing: 32, q: 40, along: 1, seed: 1,
		gains: [...]float64{0.25, 0.45, 0.20, 0.50, 0.95, 0.22},
	}.modes())
	classical = bodyOf([]resonance{
		{98, 16, 0.55, 0.15, 0.7},
		{188, 18, 0.60, 0.15, 1.2},
		{280, 25, -0.45, 0.20, 0.9},
		{395, 30, 0.45, -0.20, 1.0},
		{350, 0.7, 0.60, 0.25, 0.8},
	}, crowd{
		from: 450, to: 9000, spacing: 36, q: 36, along: 0.5, seed: 2,
		gains: [...]float64{0.51, 0.55, 0.59, 0.63, 0.68, 0.73},
	}.modes())
	solid = bodyOf([]resonance{
		{100, 0.7, 0.40, 0.20, 0.5},
		{600, 0.7, 1.00, 0.50, 0.5},
		{1800, 0.8, 0.80, 0.30, 0.5},
	})
)

// voices are the guitars of a performance.
var voices = [...]voice{
	ChordsGuitar: {
		strings: steel, scale: 0.65, body: flatTop,
		point: 0.13, width: 0.006, slip: 80000, soft: 2000,
		slant: 0.4, bridge: 1.6, split: 9e-4,
		noise: scratch{from: 400, to: 16000, strength: 0.04, tilt: 0},
	},
	GuideGuitar: {
		strings: nylon, scale: 0.65, body: classical,
		point: 0.12, width: 0.004, slip: 6000, soft: 900,
		slant: 0.4, bridge: 2.5, split: 7e-4,
		noise: scratch{from: 400, to: 7000, strength: 0.05, tilt: -0.5},
	},
	BassGuitar: {
		strings: bassSteel, scale: 0.864, body: solid,
		point: 0.12, width: 0.010, slip: 5000, soft: 900,
		slant: 0.4, bridge: 1.0, split: 4e-4,
		noise: scratch{from: 400, to: 4000, strength: 0.02, tilt: -0.5},
	},
}

// single is the frequency in Hz from which on a partial is one mode: two so close
// beat too slowly for how soon they are gone.
const single = 3500

// modes returns the modes of a note: a MIDI key, stopped at a fret, plucked with
// a velocity of 1 to 127, in one of some takes. The rate in Hz bounds the partials.
func (v voice) modes(key, fret, velocity, take, rate int) Modes {
	g := gaugeFor(v.strings, key-fret)
	length := v.lengthAt(fret)
	first := pitchOf(key)
	luck := chanceOf(key, fret, take)
	point := v.point * luck.between(0.9, 1.1)
	slant := v.slant * luck.between(0.8, 1.2)
	hard := float64(velocity) / 127
	slip := v.soft * exact.Pow(v.slip/v.soft, hard)

	bridge := v.bridge * (g.tension / length) / 185
	detuning := func(frequency float64) (loss, shift float64) {
		y := v.body.admittance(frequency)
		return bridge * real(y), bridge * imag(y) / (2 * math.Pi)
	}
	// The body detunes the first partial as well: it is tuned so that it comes out right.
	tuned := first
	for range 5 {
		_, shift := detuning(tuned)
		tuned = first - shift
	}

	var f force
	top := min(highest*float64(rate), 14000)
	g.partials(tuned, length, top, func(n int, frequency, decay float64) {
		p := float64(n) * math.Pi / length
		strength := math.Sin(p*point) / float64(n) * sinc(p*v.width/2)
		strength /= 1 + frequency*frequency/(slip*slip)
		loss, shift := detuning(frequency)
		towards := mode{frequency + shift, decay + loss, complex(strength*(1-slant), 0)}
		if frequency > single {
			towards.decay = decay + loss*(1-slant)
			f.towards = append(f.towards, towards)
			return
		}
		along := mode{frequency + v.split*frequency, decay + 0.1*loss, complex(strength*slant, 0)}
		f.towards = append(f.towards, towards)
		if n == 1 { // heard as one, so that the note is in tune from beginning to end
			along.frequency = towards.frequency
			f.towards = append(f.towards, along)
			return
		}
		f.along = append(f.along, along)
	})
	f.towards = append(f.towards, v.noise.modes(hard, luck)...)
	return evened(v.body.drive(f))
}

// lengthAt returns the speaking length in m of a string stopped at a fret.
func (v voice) lengthAt(fret int) float64 { return v.scale * math.Exp2(-float64(fret)/12) }

// pitchOf returns the frequency in Hz of a MIDI key (ISO 16: A4 = 440 Hz).
func pitchOf(key int) float64 { return 440 * math.Exp2(float64(key-69)/12) }

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
	const (
		window = 0.25 // s
		apart  = 100  // Hz: what modes further apart have in common cancels itself
	)
	sorted := slices.Clone(modes)
	slices.SortStableFunc(sorted, func(a, b mode) int { return cmp.Compare(a.frequency, b.frequency) })
	left := make([]complex128, len(sorted)) // of each mode of amplitude 1 after the window
	for i, m := range sorted {
		left[i] = exact.ExpComplex(m.pole() * window)
	}
	// energyOf returns the integral of the product of two modes, but for what turns at
	// the sum of their frequencies.
	energyOf := func(i, j int) float64 {
		a, b := sorted[i], sorted[j]
		decay := complex(a.decay+b.decay, 2*math.Pi*(b.frequency-a.frequency))
		return real(a.amplitude*cmplx.Conj(b.amplitude)*(1-left[i]*cmplx.Conj(left[j]))/decay) / 2
	}
	var energy float64
	for i, m := range sorted {
		energy += energyOf(i, i)
		for j := i + 1; j < len(sorted) && sorted[j].frequency <= m.frequency+apart; j++ {
			energy += 2 * energyOf(i, j)
		}
	}
	scale := complex(math.Sqrt(window/2/energy), 0)
	for i := range modes {
		modes[i].amplitude *= scale
	}
	return modes
}
