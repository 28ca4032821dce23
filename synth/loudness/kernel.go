package loudness

// The loop in which the meter spends its time has a kernel where the processor is an
// amd64: the same sums in the same order, both sides at once, with SSE2, which every
// amd64 has. What stands here is what it does, and what other processors run.

// A pair is a number for the left and one for the right.
type pair [2]float64

// kFactors are the factors of K-weighting's two filters, the same for both sides:
// of a sample into the shelf's result and its two memories, of the memory that
// comes back into them; then the same for the high-pass, whose first factor is
// left to be multiplied at the end.
type kFactors struct {
	in, in1, in2, back1, back2   pair
	high1, high2, again1, again2 pair
}

// kState is what the two filters remember.
type kState struct{ shelf1, shelf2, high1, high2 pair }

// weighPlainly K-weights the samples of both sides, of equal length, and returns
// the sums of their squares.
func weighPlainly(left, right []float32, f *kFactors, k *kState) pair {
	right = right[:len(left)]
	var sums pair
	for side, samples := range [2][]float32{left, right} {
		in, in1, in2, back1, back2 := f.in[side], f.in1[side], f.in2[side], f.back1[side], f.back2[side]
		h1, h2, again1, again2 := f.high1[side], f.high2[side], f.again1[side], f.again2[side]
		shelf1, shelf2, high1, high2 := k.shelf1[side], k.shelf2[side], k.high1[side], k.high2[side]
		for _, sample := range samples {
			x := float64(sample)
			y := float64(in*x) + shelf1
			shelf1, shelf2 = float64(in1*x)+shelf2-float64(back1*shelf1), float64(in2*x)-float64(back2*shelf1)
			z := y + high1
			high1, high2 = float64(h1*y)+high2-float64(again1*high1), float64(h2*y)-float64(again2*high1)
			sums[side] += float64(z * z)
		}
		k.shelf1[side], k.shelf2[side], k.high1[side], k.high2[side] = shelf1, shelf2, high1, high2
	}
	return sums
}
