package synth

// addScaled is addScaledPlainly, four samples at a time. Assembly knows no bounds,
// so they are checked here.
func addScaled(dst, src []float32, gain float32) { addScaledSSE2(dst[:len(src)], src, gain) }

// weigh is weighPlainly, both sides at once.
func weigh(left, right []float32, f *kFactors, k *kState) pair {
	return weighSSE2(left, right[:len(left)], f, k)
}

//go:noescape
func addScaledSSE2(dst, src []float32, gain float32)

//go:noescape
func weighSSE2(left, right []float32, f *kFactors, k *kState) pair
