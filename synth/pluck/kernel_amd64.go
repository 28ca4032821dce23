package pluck

import "golang.org/x/sys/cpu"

// ring is ringPlainly, four samples of each oscillator at a time.
func (b *bank) ring(dst []float64) {
	if len(dst)%(2*stride) != 0 {
		panic("samples that are no multiple of two strides")
	}
	if cpu.X86.HasAVX2 {
		ringAVX2(dst, b)
	} else {
		b.ringPlainly(dst)
	}
}

//go:noescape
func ringAVX2(dst []float64, b *bank)
