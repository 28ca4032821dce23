//go:build !amd64

package pluck

func (b *bank) ring(dst []float64) { b.ringPlainly(dst) }
