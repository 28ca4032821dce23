package room

// The room's loop has a kernel where the processor is an amd64: the same sums in the same
// order, for four frames at once, with SSE2, which every amd64 has. What stands here is
// what it does, and what other processors run.
//
// The conversions keep processors that could from rounding product and sum in one.

// four is a number four times, as a kernel wants it.
type four [4]float32

func fourTimes(x float32) four { return four{x, x, x, x} }

// A network is what a room's kernel works on.
type network struct {
	// What comes out of each delay in the frames at hand. What goes in takes its place.
	diffusers [diffusers][]float32
	lines     [lines][]float32
	before    [lines]float32 // what came out of each line before that

	feedback                     [lines]four
	diffusion, dull, mean, level four
}

// answerPlainly adds to left and right what a room answers to sound, all of the length
// of the frames at hand.
func (n *network) answerPlainly(left, right, sound []float32) {
	frames := len(sound)
	left, right = left[:frames], right[:frames]
	first, second := n.diffusers[0][:frames], n.diffusers[1][:frames]
	a, b, c := n.lines[0][:frames], n.lines[1][:frames], n.lines[2][:frames]
	d, e, f := n.lines[3][:frames], n.lines[4][:frames], n.lines[5][:frames]
	a0, b0, c0, d0, e0, f0 := n.before[0], n.before[1], n.before[2], n.before[3], n.before[4], n.before[5]
	share, dull, mean, level := n.diffusion[0], n.dull[0], n.mean[0], n.level[0]
	for i, x := range sound {
		late := first[i]
		x += float32(share * late)
		first[i] = x
		x = late - float32(share*x)
		late = second[i]
		x += float32(share * late)
		second[i] = x
		x = late - float32(share*x)
		// Half of what dullness takes from a sample goes to the one after it.
		a1, b1, c1, d1, e1, f1 := a[i], b[i], c[i], d[i], e[i], f[i]
		ao, bo, co := a1+float32(dull*(a0-a1)), b1+float32(dull*(b0-b1)), c1+float32(dull*(c0-c1))
		do, eo, fo := d1+float32(dull*(d0-d1)), e1+float32(dull*(e0-e1)), f1+float32(dull*(f0-f1))
		a0, b0, c0, d0, e0, f0 = a1, b1, c1, d1, e1, f1
		twice := mean * (((ao + bo) + (co + do)) + (eo + fo))
		left[i] += float32(level * ((ao + bo) - co))
		right[i] += float32(level * ((do + eo) - fo))
		a[i] = x + float32(n.feedback[0][0]*(ao-twice))
		b[i] = x + float32(n.feedback[1][0]*(bo-twice))
		c[i] = x + float32(n.feedback[2][0]*(co-twice))
		d[i] = x + float32(n.feedback[3][0]*(do-twice))
		e[i] = x + float32(n.feedback[4][0]*(eo-twice))
		f[i] = x + float32(n.feedback[5][0]*(fo-twice))
	}
	n.before = [lines]float32{a0, b0, c0, d0, e0, f0}
}
