package mixing

import "golang.org/x/sys/cpu"

// Assembly knows no bounds, so they are checked here. What is left of whole eights, or
// fours, is done plainly.

// Add adds src times a gain to dst, which is at least as long.
func Add(dst, src []float32, gain float32) {
	dst = dst[:len(src)]
	if !cpu.X86.HasAVX2 {
		addSSE2(dst, src, gain)
		return
	}
	n := len(src) &^ 7
	addAVX2(dst, src[:n], gain)
	addPlainly(dst[n:], src[n:], gain)
}

// addDamped is addDampedPlainly.
func addDamped(dst, src, factors []float32, gain float32) {
	dst, factors = dst[:len(src)], factors[:len(src)]
	n := 0
	if cpu.X86.HasAVX2 {
		n = len(src) &^ 7
		addDampedAVX2(dst, src[:n], factors, gain)
	}
	addDampedPlainly(dst[n:], src[n:], factors[n:], gain)
}

// Spread adds src times a gain each to left and right, which are as long.
func Spread(left, right, src []float32, toLeft, toRight float32) {
	left, right = left[:len(src)], right[:len(src)]
	if !cpu.X86.HasAVX2 {
		addSSE2(left, src, toLeft)
		addSSE2(right, src, toRight)
		return
	}
	n := len(src) &^ 7
	spreadAVX2(left, right, src[:n], toLeft, toRight)
	spreadPlainly(left[n:], right[n:], src[n:], toLeft, toRight)
}

// Place fills left and right, which are as long as src, with src times a gain each.
func Place(left, right, src []float32, toLeft, toRight float32) {
	left, right = left[:len(src)], right[:len(src)]
	n := 0
	if cpu.X86.HasAVX2 {
		n = len(src) &^ 7
		placeAVX2(left, right, src[:n], toLeft, toRight)
	}
	placePlainly(left[n:], right[n:], src[n:], toLeft, toRight)
}

// Sum fills dst with the sums of a and b, all of one length.
func Sum(dst, a, b []float32) {
	dst, b = dst[:len(a)], b[:len(a)]
	n := 0
	if cpu.X86.HasAVX2 {
		n = len(a) &^ 7
		sumAVX2(dst, a[:n], b)
	}
	sumPlainly(dst[n:], a[n:], b[n:])
}

//go:noescape
func addSSE2(dst, src []float32, gain float32)

//go:noescape
func addAVX2(dst, src []float32, gain float32)

//go:noescape
func addDampedAVX2(dst, src, factors []float32, gain float32)

//go:noescape
func spreadAVX2(left, right, src []float32, toLeft, toRight float32)

//go:noescape
func placeAVX2(left, right, src []float32, toLeft, toRight float32)

//go:noescape
func sumAVX2(dst, a, b []float32)
