//go:build !amd64

package loudness

func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighPlainly(left, right, f, k)
}
