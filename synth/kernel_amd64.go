package synth

// addScaled is addScaledPlainly, four samples at a time.
//
//go:noescape
func addScaled(dst, src []float32, gain float32)

// weigh is weighPlainly, both sides at once.
//
//go:noescape
func weigh(left, right []float32, f *kFactors, k *kState) pair
