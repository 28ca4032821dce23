//go:build !amd64

package synth

func addScaled(dst, src []float32, gain float32) { addScaledPlainly(dst, src, gain) }

func (n *network) answer(left, right, sound []float32) { n.answerPlainly(left, right, sound) }
