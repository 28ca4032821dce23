package room

// answer is answerPlainly, four frames at a time, and what is left of them after that.
func (n *network) answer(left, right, sound []float32) {
	frames := len(sound) &^ 3
	left, right = left[:len(sound)], right[:len(sound)]
	for i := range n.diffusers {
		_ = n.diffusers[i][:len(sound)]
	}
	for i := range n.lines {
		_ = n.lines[i][:len(sound)]
	}
	answerSSE2(left, right, sound[:frames], n)
	if frames == len(sound) {
		return
	}
	for i := range n.diffusers {
		n.diffusers[i] = n.diffusers[i][frames:]
	}
	for i := range n.lines {
		n.lines[i] = n.lines[i][frames:]
	}
	n.answerPlainly(left[frames:], right[frames:], sound[frames:])
}

//go:noescape
func answerSSE2(left, right, sound []float32, n *network)
