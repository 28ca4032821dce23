package pluck

// ring is ringPlainly, two oscillators at a time.
func (b *bank) ring(dst []float64) {
	if len(dst)%2 != 0 {
		panic("an odd number of samples")
	}
	ringSSE2(dst, b)
}

//go:noescape
func ringSSE2(dst []float64, b *bank)
