//go:build !amd64

package synth

func addScaled(dst, src []float32, gain float32) { addScaledPlainly(dst, src, gain) }

func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighPlainly(left, right, f, k)
}
