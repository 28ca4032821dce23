package room

import "golang.org/x/sys/cpu"

// answer is answerPlainly, eight frames at a time, and what is left of them after that.
// Assembly knows no bounds, so they are checked here.
func (n *network) answer(left, right, sound []float32) {
	if cpu.X86.HasAVX2 {
		whole := len(sound) &^ 7
		for i := range delays {
			n.in(i, whole)
			n.out(i, whole)
		}
		answerAVX2(left[:whole], right[:whole], sound[:whole], n)
		n.advance(whole)
		left, right, sound = left[whole:], right[whole:], sound[whole:]
	}
	n.answerPlainly(left, right, sound)
}

//go:noescape
func answerAVX2(left, right, sound []float32, n *network)
