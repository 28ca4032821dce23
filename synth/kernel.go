package synth

// The loop in which a kit spends most of its time has a kernel where the processor is
// an amd64: the same sums in the same order, on four numbers at once, with SSE2,
// which every amd64 has. What stands here is what it does, and what other processors
// run.

// addScaledPlainly adds src times a gain to dst, which is at least as long. All
// mixing is made of it: notes into parts, parts into both sides, reflections.
//
// The conversion keeps processors that could from rounding product and sum in one,
// so that the samples are the same everywhere.
func addScaledPlainly(dst, src []float32, gain float32) {
	dst = dst[:len(src)]
	for i, x := range src {
		dst[i] += float32(gain * x)
	}
}
