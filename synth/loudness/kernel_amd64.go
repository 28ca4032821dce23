package loudness

// weigh is weighPlainly, both sides at once. Assembly knows no bounds, so they are
// checked here.
func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighSSE2(left, right[:len(left)], f, k)
}

//go:noescape
func weighSSE2(left, right []float32, f *kFactors, k *kState) pair

// magnitudeOf is magnitudePlainly for whole sixteens.
func magnitudeOf(samples []float32) float32 { return magnitudeSSE2(samples[:len(samples)&^15]) }

// interpolate is interpolatePlainly for whole fours of results.
func interpolate(samples []float32) float32 {
	if len(samples) < peakTaps+3 {
		return interpolatePlainly(samples)
	}
	return interpolateSSE2(samples)
}

//go:noescape
func magnitudeSSE2(samples []float32) float32

//go:noescape
func interpolateSSE2(samples []float32) float32
