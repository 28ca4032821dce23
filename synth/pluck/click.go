package pluck

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
	{0.50, 140, 0.25, 0.25},
	{1.000, 85, 1.00, 1.00},
	{2.756, 220, 0.35, 0.10},
	{5.404, 500, 0.12, 0.02},
}

// clickModes returns the modes of a stroke of the click.
func clickModes(pitch float64, velocity, rate int) Modes {
	var modes Modes
	for _, row := range barModes {
		frequency := pitch * row.ratio
		if frequency > highest*float64(rate) {
			break
		}
		strength := row.soft + (row.strength-row.soft)*float64(velocity)/127
		modes = append(modes, mode{frequency, row.decay, complex(0, -strength)})
	}
	return modes
}
