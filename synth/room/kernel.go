package room

// The room's loop has a kernel where the processor is an amd64 with AVX2: the same sums
// in the same order, for eight frames at once. What stands here is what it does, and what
// other processors run.
//
// The conversions keep processors that could from rounding product and sum in one.

// answerPlainly adds to left and right what a room answers to sound, all of one length,
// which is reachable, and moves on.
func (n *network) answerPlainly(left, right, sound []float32) {
	frames := len(sound)
	left, right = left[:frames], right[:frames]
	_, first := n.out(0, frames)
	_, second := n.out(1, frames)
	a0, a := n.out(2, frames)
	b0, b := n.out(3, frames)
	c0, c := n.out(4, frames)
	d0, d := n.out(5, frames)
	e0, e := n.out(6, frames)
	f0, f := n.out(7, frames)
	toFirst, toSecond := n.in(0, frames), n.in(1, frames)
	toA, toB, toC, toD, toE, toF := n.in(2, frames), n.in(3, frames), n.in(4, frames), n.in(5, frames), n.in(6, frames), n.in(7, frames)
	share, dull, mean, level := n.diffusion, n.dull, n.mean, n.level
	for i, x := range sound {
		late := first[i]
		x += float32(share * late)
		toFirst[i] = x
		x = late - float32(share*x)
		late = second[i]
		x += float32(share * late)
		toSecond[i] = x
		x = late - float32(share*x)
		// Half of what dullness takes from a sample goes to the one after it.
		a1, b1, c1, d1, e1, f1 := a[i], b[i], c[i], d[i], e[i], f[i]
		ao, bo, co := a1+float32(dull*(a0-a1)), b1+float32(dull*(b0-b1)), c1+float32(dull*(c0-c1))
		do, eo, fo := d1+float32(dull*(d0-d1)), e1+float32(dull*(e0-e1)), f1+float32(dull*(f0-f1))
		a0, b0, c0, d0, e0, f0 = a1, b1, c1, d1, e1, f1
		twice := mean * (((ao + bo) + (co + do)) + (eo + fo))
		left[i] += float32(level * ((ao + bo) - co))
		right[i] += float32(level * ((do + eo) - fo))
		toA[i] = x + float32(n.feedback[0]*(ao-twice))
		toB[i] = x + float32(n.feedback[1]*(bo-twice))
		toC[i] = x + float32(n.feedback[2]*(co-twice))
		toD[i] = x + float32(n.feedback[3]*(do-twice))
		toE[i] = x + float32(n.feedback[4]*(eo-twice))
		toF[i] = x + float32(n.feedback[5]*(fo-twice))
	}
	n.advance(frames)
}
