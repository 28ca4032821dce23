package audiofile

import (
	"bytes"
	"math"
	"testing"

	"github.com/go-audio/wav"
	"github.com/stretchr/testify/require"
)

// Whatever samples there are, beyond full scale among them, WAV
// and FLAC read back as the same whole steps.
func FuzzFilesReadBack(f *testing.F) {
	f.Add([]byte{0, 0, 255, 127, 1, 128}, false, uint8(1))
	f.Add(bytes.Repeat([]byte{1, 2, 3, 250, 251}, 900), true, uint8(7))
	f.Add([]byte{}, true, uint8(0))
	f.Fuzz(func(t *testing.T, levels []byte, deep bool, block uint8) {
		var left, right []float32
		for ; len(levels) >= 2; levels = levels[2:] {
			left = append(left, level(levels[0]))
			right = append(right, level(levels[1]))
		}
		format := Format{Rate: 44100, Depth: 16}
		if deep {
			format.Depth = 24
		}
		want := stepsFor(format.Depth, left, right)
		size := 1 + int(block)
		pcm, err := wav.NewDecoder(bytes.NewReader(encode(t, format, Tags{}, left, right, size))).FullPCMBuffer()
		require.NoError(t, err)
		format.Container = FLAC
		_, flac := decodeFLAC(t, encode(t, format, Tags{}, left, right, size))
		require.Len(t, pcm.Data, len(want))
		require.Len(t, flac, len(want))
		for i := range want {
			require.Equal(t, want[i], pcm.Data[i], "step %d of the WAV file", i)
			require.Equal(t, want[i], flac[i], "step %d of the FLAC file", i)
		}
	})
}

// level makes of a byte a sample from −2 to 2.
func level(b byte) float32 {
	return float32(math.Sin(float64(b))) * float32(1+b%2)
}
