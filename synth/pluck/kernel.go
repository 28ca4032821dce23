package pluck

// The loop in which notes are made has a kernel where the processor is an amd64: the same
// sums in the same order, on two numbers at once, with SSE2, which every amd64 has. What
// stands here is what it does, and what other processors run.

// ringPlainly adds the next samples of a bank of oscillators, an even number of them, to
// dst, and leaves them ready to go on.
func (b *bank) ringPlainly(dst []float64) {
	b.ringHalf(dst, 0)
	b.ringHalf(dst, width/2)
}

// ringHalf does so for half a bank, from an oscillator on: as many as have room in
// registers.
//
// The conversions keep processors that could from rounding product and sum in one.
func (b *bank) ringHalf(dst []float64, from int) {
	last, before := (*[4]float64)(b.last[from:]), (*[4]float64)(b.before[from:])
	factor, squared := (*[4]float64)(b.factor[from:]), (*[4]float64)(b.squared[from:])
	a1, b1, c1, d1 := last[0], last[1], last[2], last[3]
	a2, b2, c2, d2 := before[0], before[1], before[2], before[3]
	fa, fb, fc, fd := factor[0], factor[1], factor[2], factor[3]
	sa, sb, sc, sd := squared[0], squared[1], squared[2], squared[3]
	for i := 1; i < len(dst); i += 2 {
		a2 = float64(fa*a1) + float64(sa*a2)
		b2 = float64(fb*b1) + float64(sb*b2)
		c2 = float64(fc*c1) + float64(sc*c2)
		d2 = float64(fd*d1) + float64(sd*d2)
		dst[i-1] += (a2 + c2) + (b2 + d2)
		a1 = float64(fa*a2) + float64(sa*a1)
		b1 = float64(fb*b2) + float64(sb*b1)
		c1 = float64(fc*c2) + float64(sc*c1)
		d1 = float64(fd*d2) + float64(sd*d1)
		dst[i] += (a1 + c1) + (b1 + d1)
	}
	*last = [4]float64{a1, b1, c1, d1}
	*before = [4]float64{a2, b2, c2, d2}
}
