package drawing

import "testing"

// BenchmarkFonts measures what the first text of a process pays once.
func BenchmarkFonts(b *testing.B) {
	for b.Loop() {
		for f := range files {
			readLetters(Font(f))()
		}
	}
}
