package synth

// addScaled is addScaledPlainly, four samples at a time. Assembly knows no bounds,
// so they are checked here.
func addScaled(dst, src []float32, gain float32) { addScaledSSE2(dst[:len(src)], src, gain) }

//go:noescape
func addScaledSSE2(dst, src []float32, gain float32)
