package pluck

// The loop in which notes are made has a kernel where the processor is an amd64: the same
// sums in the same order, on two numbers at once, with SSE2, which every amd64 has. What
// stands here is what it does, and what other processors run.

// ringPlainly adds the next samples of a bank of oscillators, an even number of them, to
// dst, and leaves them ready to go on.
//
// The conversions keep processors that could from rounding product and sum in one.
func (b *bank) ringPlainly(dst []float64) {
	a1, b1, c1, d1, e1, f1, g1, h1 := b.last[0], b.last[1], b.last[2], b.last[3], b.last[4], b.last[5], b.last[6], b.last[7]
	a2, b2, c2, d2, e2, f2, g2, h2 := b.before[0], b.before[1], b.before[2], b.before[3], b.before[4], b.before[5], b.before[6], b.before[7]
	for i := range dst {
		a2, a1 = a1, float64(b.factor[0]*a1)+float64(b.squared[0]*a2)
		b2, b1 = b1, float64(b.factor[1]*b1)+float64(b.squared[1]*b2)
		c2, c1 = c1, float64(b.factor[2]*c1)+float64(b.squared[2]*c2)
		d2, d1 = d1, float64(b.factor[3]*d1)+float64(b.squared[3]*d2)
		e2, e1 = e1, float64(b.factor[4]*e1)+float64(b.squared[4]*e2)
		f2, f1 = f1, float64(b.factor[5]*f1)+float64(b.squared[5]*f2)
		g2, g1 = g1, float64(b.factor[6]*g1)+float64(b.squared[6]*g2)
		h2, h1 = h1, float64(b.factor[7]*h1)+float64(b.squared[7]*h2)
		dst[i] += ((a1 + c1) + (e1 + g1)) + ((b1 + d1) + (f1 + h1))
	}
	b.last = [width]float64{a1, b1, c1, d1, e1, f1, g1, h1}
	b.before = [width]float64{a2, b2, c2, d2, e2, f2, g2, h2}
}
