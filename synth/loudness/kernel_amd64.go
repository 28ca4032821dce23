package loudness

// weigh is weighPlainly, both sides at once. Assembly knows no bounds, so they are
// checked here.
func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighSSE2(left, right[:len(left)], f, k)
}

//go:noescape
func weighSSE2(left, right []float32, f *kFactors, k *kState) pair
