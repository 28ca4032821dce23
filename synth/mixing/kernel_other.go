//go:build !amd64

package mixing

func Add(dst, src []float32, gain float32) { addPlainly(dst, src, gain) }

func addDamped(dst, src, factors []float32, gain float32) { addDampedPlainly(dst, src, factors, gain) }

func Spread(left, right, src []float32, toLeft, toRight float32) {
	spreadPlainly(left, right, src, toLeft, toRight)
}
