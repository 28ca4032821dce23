// Package mixing adds samples up: notes into their parts, parts into both sides.
package mixing

// AddAt adds samples times a gain to dst, the first of them at an index that may lie
// outside.
func AddAt(dst, samples []float32, at int, gain float32) {
	if at < 0 {
		samples, at = samples[min(-at, len(samples)):], 0
	}
	if at >= len(dst) {
		return
	}
	dst = dst[at:]
	Add(dst, samples[:min(len(dst), len(samples))], gain)
}

// DampAt adds samples as AddAt does, and each times its own of as many factors.
func DampAt(dst, samples, factors []float32, at int, gain float32) {
	factors = factors[:len(samples)]
	if at < 0 {
		out := min(-at, len(samples))
		samples, factors, at = samples[out:], factors[out:], 0
	}
	if at >= len(dst) {
		return
	}
	dst = dst[at:]
	n := min(len(dst), len(samples))
	addDamped(dst[:n], samples[:n], factors[:n], gain)
}
