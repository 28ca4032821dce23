package mixing

// Add is addPlainly, four samples at a time. Assembly knows no bounds,
// so they are checked here.
func Add(dst, src []float32, gain float32) { addSSE2(dst[:len(src)], src, gain) }

//go:noescape
func addSSE2(dst, src []float32, gain float32)

// addDamped is addDampedPlainly likewise, and what is left of fours after that.
func addDamped(dst, src, factors []float32, gain float32) {
	dst, factors = dst[:len(src)], factors[:len(src)]
	n := len(src) &^ 3
	addDampedSSE2(dst, src[:n], factors, gain)
	addDampedPlainly(dst[n:], src[n:], factors[n:], gain)
}

//go:noescape
func addDampedSSE2(dst, src, factors []float32, gain float32)

// spread is spreadPlainly, one side after the other.
func Spread(left, right, src []float32, toLeft, toRight float32) {
	Add(left, src, toLeft)
	Add(right, src, toRight)
}
