//go:build !amd64

package synth

func addScaled(dst, src []float32, gain float32) { addScaledPlainly(dst, src, gain) }

func addDamped(dst, src, factors []float32, gain float32) { addDampedPlainly(dst, src, factors, gain) }

func spread(left, right, src []float32, toLeft, toRight float32) {
	spreadPlainly(left, right, src, toLeft, toRight)
}
