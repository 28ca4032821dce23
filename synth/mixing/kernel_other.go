//go:build !amd64

package mixing

// Add adds src times a gain to dst, which is at least as long.
func Add(dst, src []float32, gain float32) { addPlainly(dst, src, gain) }

func addDamped(dst, src, factors []float32, gain float32) { addDampedPlainly(dst, src, factors, gain) }

// Spread adds src times a gain each to left and right, which are as long.
func Spread(left, right, src []float32, toLeft, toRight float32) {
	spreadPlainly(left, right, src, toLeft, toRight)
}

// Place fills left and right, which are as long as src, with src times a gain each.
func Place(left, right, src []float32, toLeft, toRight float32) {
	placePlainly(left, right, src, toLeft, toRight)
}

// Sum fills dst with the sums of a and b, all of one length.
func Sum(dst, a, b []float32) { sumPlainly(dst, a, b) }
