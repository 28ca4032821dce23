//go:build !amd64

package room

func (n *network) answer(left, right, sound []float32) { n.answerPlainly(left, right, sound) }
