package audiofile

import (
	"bytes"
	"crypto/md5"
	"errors"
	"io"
	"math"
	"testing"

	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
	"github.com/mewkiz/flac/meta"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/synth/soundtest"
)

// decodeFLAC reads a stream back. The library checks each frame's checksums.
func decodeFLAC(t require.TestingT, file []byte) (*flac.Stream, []int) {
	stream, err := flac.Parse(bytes.NewReader(file))
	require.NoError(t, err)
	var samples []int
	for {
		f, err := stream.ParseNext()
		if errors.Is(err, io.EOF) {
			return stream, samples
		}
		require.NoError(t, err)
		for i := range f.Subframes[0].Samples {
			samples = append(samples, int(f.Subframes[0].Samples[i]), int(f.Subframes[1].Samples[i]))
		}
	}
}

// RFC 9639: the stream decodes to the very steps that a WAV file would hold,
// and STREAMINFO (section 8.2) counts and sums them.
func TestFLACDecodesToTheStepsOfWAV(t *testing.T) {
	signals := map[string]func(int) ([]float32, []float32){
		"ramps": ramps, "noise": soundtest.Noise, "plucks": soundtest.Plucks,
		"silence":  func(n int) ([]float32, []float32) { return make([]float32, n), make([]float32, n) },
		"extremes": extremes,
	}
	for name, signal := range signals {
		for _, f := range []Format{
			{Container: FLAC, Rate: 44100, Depth: 16},
			{Container: FLAC, Rate: 48000, Depth: 24},
		} {
			// Blocks that are full, short, and as short as one frame.
			for _, frames := range []int{0, 1, 5, 4096, 4097, 3*4096 + 1000} {
				left, right := signal(frames)
				stream, got := decodeFLAC(t, encode(t, f, Tags{}, left, right, 999))
				want := stepsFor(f.Depth, left, right)
				require.Equal(t, want, got, "%s, %d frames of %d bits", name, frames, f.Depth)

				streamInfo := stream.Info
				assert.EqualValues(t, frames, streamInfo.NSamples)
				assert.EqualValues(t, f.Rate, streamInfo.SampleRate)
				assert.EqualValues(t, f.Depth, streamInfo.BitsPerSample)
				assert.EqualValues(t, 2, streamInfo.NChannels)
				assert.EqualValues(t, 4096, streamInfo.BlockSizeMin, "the last block is excluded")
				assert.EqualValues(t, 4096, streamInfo.BlockSizeMax)
				assert.Equal(t, md5.Sum(littleEndian(want, f.Depth)), streamInfo.MD5sum)
			}
		}
	}
}

// extremes jumps between the limits, against all prediction.
func extremes(frames int) (left, right []float32) {
	left, right = soundtest.Noise(frames)
	for i := range left {
		left[i] = float32(math.Copysign(1, float64(left[i])))
		right[i] = float32(math.Copysign(1, float64(right[i])))
	}
	return left, right
}

func littleEndian(samples []int, depth int) (pcm []byte) {
	for _, s := range samples {
		for shift := 0; shift < depth; shift += 8 {
			pcm = append(pcm, byte(s>>shift))
		}
	}
	return pcm
}

// justWriter hides that a writer can seek.
type justWriter struct{ io.Writer }

// RFC 9639 sections 8.2 and 8.5: a checksum of zeros is one that is not known, and a
// point without a place is none. Nothing but these and the level differs.
func TestFLACWithoutSeekingLeavesOnlyWhatIsKnownAtTheEnd(t *testing.T) {
	left, right := soundtest.Plucks(10_000)
	want := encode(t, Format{Container: FLAC}, Tags{Title: "x"}, left, right, 10_000)

	var file bytes.Buffer
	enc, err := NewEncoder(justWriter{&file}, Format{Container: FLAC}, len(left), Tags{Title: "x"})
	require.NoError(t, err)
	require.NoError(t, Quantise(16, 1, enc).Write(left, right))
	require.NoError(t, enc.Close(Level{}))

	stream, got := decodeFLAC(t, file.Bytes())
	assert.Equal(t, stepsFor(16, left, right), got)
	assert.Zero(t, stream.Info.MD5sum)
	assert.EqualValues(t, len(left), stream.Info.NSamples)
	require.Len(t, stream.Blocks, 2)
	for _, point := range stream.Blocks[0].Body.(*meta.SeekTable).Points {
		assert.Equal(t, uint64(meta.PlaceholderPoint), point.SampleNum)
	}
	const checksum = 4 + 4 + 18 // signature, block header, what precedes it in STREAMINFO
	assert.Equal(t, want[:checksum], file.Bytes()[:checksum])
	require.Len(t, file.Bytes(), len(want))
	head := bytes.Index(want, []byte{0xff, 0xf8}) // the first block of samples (section 9.1)
	assert.Equal(t, want[head:], file.Bytes()[head:])
}

func TestFLACSaysWhatItIs(t *testing.T) {
	left, right := ramps(44100 * 2)
	tags := Tags{
		Title: "Porch Light", Software: "a program", Comment: "♯ and ♭",
		Artist: "A Teacher", Album: "First Lines", Track: 3, Tracks: 9,
		Tempo: 59.6, Key: "A minor", KeySign: "Am", Loop: true,
		Markers: []Marker{{0, "A"}, {44100 + 11025, "bar 2"}},
	}
	var file memoryFile
	enc, err := NewEncoder(&file, Format{Container: FLAC}, len(left), tags)
	require.NoError(t, err)
	require.NoError(t, Quantise(16, 1, enc).Write(left, right))
	require.NoError(t, enc.Close(Level{Loudness: -20.5, TruePeak: -6}))
	stream, err := flac.Parse(bytes.NewReader(file.bytes))
	require.NoError(t, err)
	require.Len(t, stream.Blocks, 2)
	assert.Equal(t, [][2]string{
		{"TITLE", "Porch Light"},
		{"ARTIST", "A Teacher"},
		{"ALBUM", "First Lines"},
		{"TRACKNUMBER", "3"},
		{"TRACKTOTAL", "9"},
		{"BPM", "60"},
		{"KEY", "A minor"},
		{"LOOPSTART", "0"},
		{"LOOPLENGTH", "88200"},
		{"REPLAYGAIN_TRACK_GAIN", "+02.50 dB"},
		{"REPLAYGAIN_TRACK_PEAK", "0.501187"},
		{"ENCODER", "a program"},
		{"DESCRIPTION", "♯ and ♭"},
		{"CHAPTER001", "00:00:00.000"},
		{"CHAPTER001NAME", "A"},
		{"CHAPTER002", "00:00:01.250"},
		{"CHAPTER002NAME", "bar 2"},
	}, stream.Blocks[1].Body.(*meta.VorbisComment).Tags)
}

// RFC 9639 section 8.5: each point leads to the block that it names, which holds the
// tenth second, the twentieth and so on.
func TestFLACSeekTableLeadsToItsBlocks(t *testing.T) {
	left, right := soundtest.Plucks(25 * 44100)
	file := encode(t, Format{Container: FLAC}, Tags{}, left, right, 4410)
	stream, err := flac.Parse(bytes.NewReader(file))
	require.NoError(t, err)
	points := stream.Blocks[0].Body.(*meta.SeekTable).Points
	require.Len(t, points, 3)
	first := bytes.Index(file, []byte{0xff, 0xf8})
	for i, point := range points {
		block, err := frame.New(bytes.NewReader(file[first+int(point.Offset):]))
		require.NoError(t, err)
		assert.Equal(t, point.SampleNum, block.SampleNumber())
		assert.EqualValues(t, flacBlock, point.NSamples)
		assert.LessOrEqual(t, int(point.SampleNum), 10*i*44100)
		assert.Greater(t, int(point.SampleNum)+flacBlock, 10*i*44100)
	}
}

func TestClockOfLongFiles(t *testing.T) {
	assert.Equal(t, "02:03:04.500", clock((2*3600+3*60+4)*48000+24000, 48000))
	assert.Equal(t, "00:01:00.000", clock(60*44100-1, 44100), "rounded to the nearest millisecond")
}

// The recursion finds the coefficients of a process that is known.
func TestPredictorFindsAResonance(t *testing.T) {
	// x[n] = 2r·cos(ω)·x[n−1] − r²·x[n−2], a decaying sine.
	const r, omega = 0.9999, 0.1
	samples := make([]int32, flacBlock)
	for n := range samples {
		samples[n] = int32(math.Round(20000 * math.Pow(r, float64(n)) * math.Sin(omega*float64(n))))
	}
	var p predictor
	found := p.plan(samples, 16)
	assert.Equal(t, frame.PredFIR, found.header.Pred)
	assert.GreaterOrEqual(t, found.header.Order, 2)
	assert.Less(t, found.bits, 4*flacBlock, "a sine leaves little but the rounding")
}

// The sums that the partitions are chosen by must be those of the code itself.
func TestRiceParameterIsTheShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top := rapid.Uint32Range(0, 1<<20).Draw(t, "top")
		numbers := rapid.SliceOfN(rapid.Uint32Range(0, top), 64, 64).Draw(t, "numbers")
		sum := uint64(0)
		for _, n := range numbers {
			sum += uint64(n)
		}
		exact := func(k uint) (length int) {
			for _, n := range numbers {
				length += int(n>>k) + 1 + int(k)
			}
			return length
		}
		shortest := math.MaxInt
		for k := range uint(maxRice2 + 1) {
			shortest = min(shortest, exact(k))
		}
		param, _ := riceParameter(sum, len(numbers))
		assert.LessOrEqual(t, exact(param), shortest+shortest/8+8)
	})
}

func BenchmarkFLAC(b *testing.B) {
	const frames = 20 * 44100
	left, right := soundtest.Plucks(frames)
	b.SetBytes(frames * 4)
	for b.Loop() {
		enc, err := NewEncoder(io.Discard, Format{Container: FLAC}, frames, Tags{})
		require.NoError(b, err)
		require.NoError(b, Quantise(16, 1, enc).Write(left, right))
		require.NoError(b, enc.Close(Level{}))
	}
	soundtest.PerFrame(b, frames)
}

func TestFLACReportsAFailedWrite(t *testing.T) {
	left, right := soundtest.Noise(200_000)
	enc, err := NewEncoder(brokenWriter{}, Format{Container: FLAC}, len(left), Tags{})
	require.NoError(t, err)
	require.Error(t, Quantise(16, 1, enc).Write(left, right))
}
