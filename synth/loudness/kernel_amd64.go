package loudness

import "golang.org/x/sys/cpu"

// weigh is weighPlainly, both sides at once. Assembly knows no bounds, so they are
// checked here.
func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighSSE2(left, right[:len(left)], f, k)
}

//go:noescape
func weighSSE2(left, right []float32, f *kFactors, k *kState) pair

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
