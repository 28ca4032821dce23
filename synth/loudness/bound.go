package loudness

// Reach is the frames that the filter of a true peak sees around a place.
const Reach = peakTaps

// PeakAbove returns the true peak of a stretch, of which the filter sees Reach frames
// more at either end, where it passes floor; otherwise floor. All are magnitudes, full
// scale 1.
func PeakAbove(left, right []float32, floor float32) float32 {
	meter := PeakMeter{peak: floor}
	copy(meter.left[:peakReach], left)
	copy(meter.right[:peakReach], right)
	_ = meter.Write(left[peakReach:], right[peakReach:])
	return meter.peak
}

// Bounds returns a bound of the true peak of each span of samples, which is their
// true peak itself where that matters: where they are loud. The last span may be
// shorter.
func Bounds(samples []float32, span int) []float32 {
	const loud = 0.25
	const slack = 1.05 // for what lies across the edges of spans, and of a note and its ending
	bounds := make([]float32, 0, len(samples)/span+1)
	for from := 0; from < len(samples); from += span {
		within := samples[from:min(from+span, len(samples))]
		bound := peakGain * magnitude(within)
		if bound > loud {
			around := samples[max(0, from-peakTaps):min(from+span+peakTaps, len(samples))]
			bound = slack * max(magnitude(within), interpolated(around))
		}
		bounds = append(bounds, bound)
	}
	return bounds
}
