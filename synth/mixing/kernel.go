package mixing

// These loops, in which a kit spends much of its time, have kernels where the processor is
// an amd64: the same sums in the same order, on eight numbers at once with AVX2; where
// there is none, notes are added and spread on four at once with SSE2, which every amd64
// has. What stands here is what they do, and what other processors run.
//
// The conversions keep processors that could from rounding product and sum in one,
// so that the samples are the same everywhere.

// addPlainly adds src times a gain to dst, which is at least as long. All
// mixing is made of it: notes into parts, parts into both sides.
func addPlainly(dst, src []float32, gain float32) {
	dst = dst[:len(src)]
	for i, x := range src {
		dst[i] += float32(gain * x)
	}
}

// addDampedPlainly adds src times a gain, and times factors, to dst, all of one length.
func addDampedPlainly(dst, src, factors []float32, gain float32) {
	dst, factors = dst[:len(src)], factors[:len(src)]
	for i, x := range src {
		dst[i] += float32(float32(gain*x) * factors[i])
	}
}

// spreadPlainly adds src times a gain each to left and right, which are as long.
func spreadPlainly(left, right, src []float32, toLeft, toRight float32) {
	left, right = left[:len(src)], right[:len(src)]
	for i, x := range src {
		left[i] += float32(toLeft * x)
		right[i] += float32(toRight * x)
	}
}

// placePlainly fills left and right, which are as long as src, with src times a gain each.
func placePlainly(left, right, src []float32, toLeft, toRight float32) {
	left, right = left[:len(src)], right[:len(src)]
	for i, x := range src {
		left[i], right[i] = toLeft*x, toRight*x
	}
}

// sumPlainly fills dst with the sums of a and b, all of one length.
func sumPlainly(dst, a, b []float32) {
	dst, b = dst[:len(a)], b[:len(a)]
	for i, x := range a {
		dst[i] = x + b[i]
	}
}
