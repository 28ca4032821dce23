package pluck

// The loop in which notes are made has a kernel where the processor is an amd64 with
// AVX2: the same sums in the same order, on four numbers at once. What stands here is
// what it does, and what other processors run.

// ringPlainly adds the next samples of a bank of oscillators, a multiple of 2·stride, to
// dst, and leaves them ready to go on.
//
// The conversions keep processors that could from rounding product and sum in one.
func (b *bank) ringPlainly(dst []float64) {
	fa, fb, fc, fd := b.factor[0], b.factor[1], b.factor[2], b.factor[3]
	sa, sb, sc, sd := b.squared[0], b.squared[1], b.squared[2], b.squared[3]
	for at := range stride {
		a1, b1, c1, d1 := b.last[0][at], b.last[1][at], b.last[2][at], b.last[3][at]
		a2, b2, c2, d2 := b.before[0][at], b.before[1][at], b.before[2][at], b.before[3][at]
		for rest := dst; len(rest) >= 2*stride; rest = rest[2*stride:] {
			two := (*[2 * stride]float64)(rest)
			a2 = float64(fa*a1) + float64(sa*a2)
			b2 = float64(fb*b1) + float64(sb*b2)
			c2 = float64(fc*c1) + float64(sc*c2)
			d2 = float64(fd*d1) + float64(sd*d2)
			two[at] += (a2 + c2) + (b2 + d2)
			a1 = float64(fa*a2) + float64(sa*a1)
			b1 = float64(fb*b2) + float64(sb*b1)
			c1 = float64(fc*c2) + float64(sc*c1)
			d1 = float64(fd*d2) + float64(sd*d1)
			two[at+stride] += (a1 + c1) + (b1 + d1)
		}
		b.last[0][at], b.last[1][at], b.last[2][at], b.last[3][at] = a1, b1, c1, d1
		b.before[0][at], b.before[1][at], b.before[2][at], b.before[3][at] = a2, b2, c2, d2
	}
}
