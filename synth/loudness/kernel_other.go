//go:build !amd64

package loudness

func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighPlainly(left, right, f, k)
}

func magnitudeOf(samples []float32) float32 { return magnitudePlainly(samples) }

func interpolate(samples []float32) float32 { return interpolatePlainly(samples) }
