package pluck

import (
	"math"

	"thirdwise/synth/exact"
)

// A rustle is a soft sound of percussion: many small strokes at random (the beads of a
// shaker, the wires of a brush), which rise and die away together and sound through what
// they strike (after P. Cook, Physically Informed Sonic Modeling, Computer Music Journal
// 21 (1997); from memory). The values of the rustles are our own, by ear and by
// measuring.
type rustle struct {
	rise, fall float64 // s: time constants of the whole
	strokes    float64 // a second
	grain      float64 // s: time constant of one stroke
	energy     float64 // of the whole at full velocity, in seconds of a square of amplitude 1
	bands      []band  // what is struck, the lowest first
}

// A band is a resonance that noise is heard through.
type band struct {
	frequency float64 // Hz
	q         float64
	hard      float64 // gain at full velocity
	soft      float64 // the same at the lowest velocity
}

var rustles = map[Instrument]rustle{
	ShakerForth: {
		rise: 0.005, fall: 0.030, strokes: 2600, grain: 0.0012, energy: 0.004,
		bands: []band{{4000, 1.2, 0.08, 0.08}, {8000, 1.8, 1.00, 0.80}, {11500, 1.5, 0.60, 0.30}},
	},
	ShakerBack: {
		rise: 0.009, fall: 0.026, strokes: 2200, grain: 0.0012, energy: 0.004,
		bands: []band{{3700, 1.2, 0.08, 0.08}, {7200, 1.8, 1.00, 0.80}, {10500, 1.5, 0.45, 0.25}},
	},
	BrushSweep: {
		rise: 0.040, fall: 0.280, strokes: 7000, grain: 0.0008, energy: 0.008,
		bands: []band{{1500, 0.7, 0.40, 0.35}, {3900, 0.7, 0.80, 0.65}, {7600, 0.8, 0.70, 0.40}},
	},
	BrushTap: {
		rise: 0.0015, fall: 0.036, strokes: 9000, grain: 0.0008, energy: 0.005,
		bands: []band{{205, 7, 0.50, 0.25}, {1700, 0.7, 0.60, 0.50}, {4400, 0.8, 0.70, 0.50}, {8600, 1, 0.70, 0.35}},
	},
}

// rustle returns the samples of a sound that is one.
func (s Sound) rustle(frames, rate int) []float32 {
	r := rustles[s.Instrument]
	luck := chanceOf(int(s.Instrument), int(s.Layer), int(s.Take))
	hertz := float64(rate)
	hard := float64(layers[s.Layer].velocity) / 127

	still := 1 - 1/(r.rise*hertz)
	less := 1 - 1/(r.fall*hertz)
	fades := 1 - 1/(r.grain*hertz)
	filters := make([]bandPass, len(r.bands))
	gains := make([]float64, len(r.bands))
	for i, b := range r.bands {
		filters[i] = newBandPass(b.frequency, b.q, hertz)
		gains[i] = b.soft + (b.hard-b.soft)*hard
	}
	made := make([]float64, frameCount(r.fall*exact.Log(1/inaudible), hertz))
	waits, size, level, energy := 1.0, 1.0, 0.0, 0.0
	for i := range made {
		waits *= still
		size *= less
		level *= fades
		if luck.Float64()*hertz < r.strokes {
			level += size * (1 - waits) * luck.between(0.2, 1)
		}
		noise := level * luck.between(-1, 1)
		for j := range filters {
			made[i] += float64(gains[j] * filters[j].next(noise))
		}
		energy += float64(made[i]*made[i]) / hertz
	}
	scale := math.Sqrt(r.energy / energy)
	samples := make([]float32, min(frames, len(made)))
	for i := range samples {
		samples[i] = float32(scale * made[i])
	}
	return samples
}

// A bandPass is a second-order filter that passes its own frequency as it is (by the
// bilinear transform; from memory). The conversions keep processors that could from
// rounding product and sum in one.
type bandPass struct {
	in, back1, back2 float64
	x1, x2, y1, y2   float64 // the last two samples that went in, and that came out
}

func newBandPass(frequency, q, rate float64) bandPass {
	sin, cos := math.Sincos(2 * math.Pi * frequency / rate)
	narrow := sin / (2 * q)
	return bandPass{in: narrow / (1 + narrow), back1: -2 * cos / (1 + narrow), back2: (1 - narrow) / (1 + narrow)}
}

func (f *bandPass) next(x float64) float64 {
	y := float64(f.in*(x-f.x2)) - float64(f.back1*f.y1) - float64(f.back2*f.y2)
	f.x2, f.x1, f.y2, f.y1 = f.x1, x, f.y1, y
	return y
}
