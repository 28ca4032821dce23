package pluck

import "thirdwise/synth/exact"

// The two pitches of the click, a small wooden bar struck at its middle: the
// accent a fourth above the others. Our own, by ear: high enough to be heard
// through chords, low enough not to pierce.
const (
	clickPitch  = 1175.0 // Hz
	accentPitch = 1568.0 // Hz
)

// barModes are the modes of a wooden bar with free ends. The ratios of the first
// three are 1 : 2.756 : 5.404 (Fletcher and Rossing, 2.16, from memory); decays
// and strengths are our own, by ear. The row at half the pitch is the hollow
// below the bar.
var barModes = []struct {
	ratio    float64
	decay    float64 // 1/s
	strength float64 // at full velocity
	soft     float64 // at the lowest velocity
}{
	{0.50, 140, 0.18, 0.18},
	{1.000, 120, 0.45, 0.45},
	{2.756, 260, 0.25, 0.10},
	{5.404, 500, 0.10, 0.02},
}

// A tick is the noise of the stroke itself, strongest from 3 to 5 kHz, where chords have
// little and the ear is keenest: in the bands of the ear that lie there a click is heard
// through all else. Our own, by ear.
const (
	tickModes    = 48
	tickFrom     = 2750.0 // Hz
	tickTo       = 7600.0 // Hz
	tickDecay    = 110.0  // 1/s
	tickStrength = 0.32
	tickSeed     = 189 // of the first few hundred the one with the lowest peak for its energy
)

// clickModes returns the modes of a stroke of the click.
func clickModes(pitch float64, velocity, rate int) Modes {
	hard := float64(velocity) / 127
	var modes Modes
	for _, row := range barModes {
		frequency := pitch * row.ratio
		if frequency > highest*float64(rate) {
			break
		}
		loud := row.soft + (row.strength-row.soft)*hard
		modes = append(modes, mode{frequency, row.decay, complex(0, -loud)})
	}
	luck := chanceOf(tickSeed)
	for i := range tickModes {
		frequency := tickFrom + (tickTo-tickFrom)*(float64(i)+luck.between(0.2, 0.8))/tickModes
		loud := tickStrength * luck.sign() * exact.Pow(tickFrom/frequency, 0.6)
		decay := tickDecay * luck.between(0.8, 1.25)
		modes = append(modes, mode{frequency, decay, complex(0, loud)})
	}
	return modes
}
