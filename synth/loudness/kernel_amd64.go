package loudness

import "golang.org/x/sys/cpu"

// weigh is weighPlainly, four frames at once. Assembly knows no bounds, so they are
// checked here.
func weigh(left, right []float32, f *kFactors, k *kState) (sums quad) {
	if !cpu.X86.HasAVX2 {
		return weighPlainly(left, right, f, k)
	}
	n := len(left) &^ (group - 1)
	weighAVX2(left[:n], right[:n], f, k, &sums)
	return sums
}

//go:noescape
func weighAVX2(left, right []float32, f *kFactors, k *kState, sums *quad)

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
