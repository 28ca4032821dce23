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

// magnitudeOf is magnitudePlainly for whole magnitudes.
func magnitudeOf(samples []float32) float32 {
	if !cpu.X86.HasAVX2 {
		return magnitudePlainly(samples)
	}
	return magnitudeAVX2(samples[:len(samples)&^(magnitudes-1)])
}

// interpolate is interpolatePlainly for whole interpolations.
func interpolate(samples []float32) float32 {
	if !cpu.X86.HasAVX2 {
		return interpolatePlainly(samples)
	}
	return interpolateAVX2(samples)
}

//go:noescape
func magnitudeAVX2(samples []float32) float32

//go:noescape
func interpolateAVX2(samples []float32) float32
