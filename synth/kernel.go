package synth

// The loops in which a kit spends most of its time have a kernel where the processor is
// an amd64: the same sums in the same order, on four numbers at once, with SSE2,
// which every amd64 has. What stands here is what they do, and what other processors
// run.
//
// The conversions keep processors that could from rounding product and sum in one,
// so that the samples are the same everywhere.

// addScaledPlainly adds src times a gain to dst, which is at least as long. All
// mixing is made of it: notes into parts, parts into both sides.
func addScaledPlainly(dst, src []float32, gain float32) {
	dst = dst[:len(src)]
	for i, x := range src {
		dst[i] += float32(gain * x)
	}
}

// four is a number four times, as a kernel wants it.
type four [4]float32

func fourTimes(x float32) four { return four{x, x, x, x} }

// A network is what a room's kernel works on.
type network struct {
	// What comes out of each delay in the frames at hand. What goes in takes its place.
	diffusers [diffusers][]float32
	lines     [lines][]float32
	before    [lines]float32 // what came out of each line before that

	feedback                    [lines]four
	diffusion, dull, mean, gain four

	// The plain loops' own: the sound as it goes to the lines, what comes out of them, and
	// twice its mean.
	sound, twice [chunk]float32
	out          [lines][chunk]float32
}

// answerPlainly adds to left and right what a room answers to sound, all of the length
// of the frames at hand.
func (n *network) answerPlainly(left, right, sound []float32) {
	frames := len(sound)
	in, twice := n.sound[:frames], n.twice[:frames]
	copy(in, sound)
	share := n.diffusion[0]
	for _, memory := range n.diffusers {
		memory = memory[:frames]
		for i, x := range in {
			late := memory[i]
			x += float32(share * late)
			memory[i] = x
			in[i] = late - float32(share*x)
		}
	}
	// Half of what dullness takes from a sample goes to the one after it.
	dull := n.dull[0]
	for j, memory := range n.lines {
		before, out := n.before[j], n.out[j][:frames]
		for i, x := range memory[:frames] {
			out[i] = x + float32(dull*(before-x))
			before = x
		}
		n.before[j] = before
	}
	gain, mean := n.gain[0], n.mean[0]
	left, right = left[:frames], right[:frames]
	a, b, c := n.out[0][:frames], n.out[1][:frames], n.out[2][:frames]
	d, e, f := n.out[3][:frames], n.out[4][:frames], n.out[5][:frames]
	for i := range twice {
		twice[i] = mean * (((a[i] + b[i]) + (c[i] + d[i])) + (e[i] + f[i]))
		left[i] += float32(gain * ((a[i] + b[i]) - c[i]))
		right[i] += float32(gain * ((d[i] + e[i]) - f[i]))
	}
	for j, memory := range n.lines {
		feedback, out := n.feedback[j][0], n.out[j][:frames]
		memory = memory[:frames]
		for i, x := range in {
			memory[i] = x + float32(feedback*(out[i]-twice[i]))
		}
	}
}
