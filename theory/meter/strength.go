package meter

import "slices"

// Strength says how strong the place is on which a note begins.
type Strength int

// The strengths.
const (
	OffBeat Strength = iota
	OnBeat
	OnStrongBeat // a group of the bar begins
)

// StrengthAt returns the strength of a tick, counted from the beginning of a bar.
func (m Meter) StrengthAt(tick int) Strength {
	switch in := tick % m.Bar(); {
	case slices.Contains(m.Strong(), in):
		return OnStrongBeat
	case slices.Contains(m.BeatStarts(), in):
		return OnBeat
	}
	return OffBeat
}
