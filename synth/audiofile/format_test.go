package audiofile

import (
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFormatsThatAreMade(t *testing.T) {
	assert.NoError(t, Format{}.Check())
	assert.NoError(t, Format{Container: FLAC, Rate: 48000, Depth: 24}.Check())
	assert.ErrorContains(t, Format{Rate: 96000}.Check(), "96000 Hz")
	assert.ErrorContains(t, Format{Depth: 32}.Check(), "32 bits")
	assert.ErrorContains(t, Format{Container: 7}.Check(), "7")
	_, err := NewEncoder(io.Discard, Format{Rate: 1}, 0, Tags{})
	assert.Error(t, err)
}

func TestContainersReadTheirOwnNames(t *testing.T) {
	for _, want := range []Container{WAV, FLAC} {
		var got Container
		require.NoError(t, got.UnmarshalText([]byte(want.String())))
		assert.Equal(t, want, got)
	}
	var c Container
	assert.ErrorContains(t, c.UnmarshalText([]byte("aiff")), `"aiff"`)
}

func TestEncodersHoldToTheLengthPromised(t *testing.T) {
	left, right := ramps(10)
	for _, c := range []Container{WAV, FLAC} {
		enc, err := NewEncoder(io.Discard, Format{Container: c}, 15, Tags{})
		require.NoError(t, err)
		steps := Quantise(16, 1, enc)
		require.NoError(t, steps.Write(left, right))
		require.ErrorContains(t, steps.Write(left, right), "15 frames")

		enc, err = NewEncoder(io.Discard, Format{Container: c}, 15, Tags{})
		require.NoError(t, err)
		steps = Quantise(16, 1, enc)
		require.ErrorContains(t, steps.Write(left, right[1:]), "10 samples left and 9 right")
		_, err = enc.Write(make([]byte, 6))
		require.ErrorContains(t, err, "no whole frames")
		require.NoError(t, steps.Write(left, right))
		require.ErrorContains(t, enc.Close(Level{}), "10 frames of 15")

		_, err = NewEncoder(io.Discard, Format{Container: c}, -1, Tags{})
		require.ErrorContains(t, err, "-1 frames")
	}
}

func TestMarkersStandInTheFileAndInOrder(t *testing.T) {
	for _, markers := range [][]Marker{
		{{-1, "before"}},
		{{10, "behind"}},
		{{5, "later"}, {4, "earlier"}},
	} {
		_, err := NewEncoder(io.Discard, Format{}, 10, Tags{Markers: markers})
		assert.Error(t, err, "%v", markers)
	}
	_, err := NewEncoder(io.Discard, Format{}, 10, Tags{Markers: []Marker{{0, "a"}, {0, "b"}, {9, "c"}}})
	assert.NoError(t, err)
}

// Whatever the samples, both containers hold the same steps.
func TestContainersAgree(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		depth := rapid.SampledFrom([]int{16, 24}).Draw(rt, "depth")
		channel := rapid.SliceOfN(rapid.Float32Range(-1.5, 1.5), 1, 50)
		left, right := channel.Draw(rt, "left"), channel.Draw(rt, "right")
		repeat := rapid.IntRange(1, 200).Draw(rt, "repeat") // so that prediction has something to find
		var l, r []float32
		for i := range repeat * len(left) {
			l = append(l, left[i%len(left)])
			r = append(r, right[i%len(right)])
		}
		_, got := decodeFLAC(rt, encode(t, Format{Container: FLAC, Depth: depth}, Tags{}, l, r, 4000))
		require.Equal(rt, stepsFor(depth, l, r), got)
	})
}
