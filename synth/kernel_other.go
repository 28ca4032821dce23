//go:build !amd64

package synth

func addScaled(dst, src []float32, gain float32) { addScaledPlainly(dst, src, gain) }
