package audiofile

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"testing"
	"unicode/utf16"

	"github.com/go-audio/audio"
	"github.com/go-audio/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/synth/soundtest"
)

// ramps is a stereo signal that uses the whole range: left rises from −1 to 1
// while right falls.
func ramps(frames int) (left, right []float32) {
	left, right = make([]float32, frames), make([]float32, frames)
	for i := range left {
		left[i] = float32(2*i)/float32(frames) - 1
		right[i] = -left[i]
	}
	return left, right
}

// encode writes the samples in blocks of the given size.
func encode(t testing.TB, f Format, tags Tags, left, right []float32, block int) []byte {
	t.Helper()
	var file memoryFile
	enc, err := NewEncoder(&file, f, len(left), tags)
	require.NoError(t, err)
	out := Quantise(f.WithDefaults().Depth, 1, enc)
	for at := 0; at < len(left); at += block {
		end := min(at+block, len(left))
		require.NoError(t, out.Write(left[at:end], right[at:end]))
	}
	require.NoError(t, enc.Close(Level{}))
	return file.bytes
}

// A heap gathers the whole steps of a depth that it is given, left and right in turn.
type heap struct {
	depth int
	steps []int
}

func (h *heap) Write(pcm []byte) (int, error) {
	n := len(pcm) / frameBytes(h.depth)
	left, right := make([]int32, n), make([]int32, n)
	unpack(left, right, pcm, h.depth)
	for i, l := range left {
		h.steps = append(h.steps, int(l), int(right[i]))
	}
	return len(pcm), nil
}

func stepsFor(depth int, left, right []float32) []int {
	gathered := heap{depth: depth}
	_ = Quantise(depth, 1, &gathered).Write(left, right)
	return gathered.steps
}

func TestWAVReadsBackAsWritten(t *testing.T) {
	left, right := ramps(5000)
	tags := Tags{
		Title:    "Porch Light",
		Software: "a program",
		Comment:  "♯ and ♭",
		Markers:  []Marker{{0, "A"}, {1200, "bar 2"}, {4999, "end"}},
		Loop:     true,
	}
	for _, f := range []Format{{Depth: 16, Rate: 44100}, {Depth: 16, Rate: 48000}, {Depth: 24, Rate: 44100}, {Depth: 24, Rate: 48000}} {
		file := encode(t, f, tags, left, right, 777)

		dec := wav.NewDecoder(bytes.NewReader(file))
		require.True(t, dec.IsValidFile())
		pcm, err := dec.FullPCMBuffer()
		require.NoError(t, err)
		assert.Equal(t, f.Rate, pcm.Format.SampleRate)
		assert.Equal(t, 2, pcm.Format.NumChannels)
		assert.Equal(t, f.Depth, pcm.SourceBitDepth)
		assert.Equal(t, stepsFor(f.Depth, left, right), pcm.Data)

		dec = wav.NewDecoder(bytes.NewReader(file))
		dec.ReadMetadata()
		require.NoError(t, dec.Err())
		m := dec.Metadata
		assert.Equal(t, tags.Title, m.Title)
		assert.Equal(t, tags.Software, m.Software)
		assert.Equal(t, tags.Comment, m.Comments)
		require.Len(t, m.CuePoints, 3)
		for i, marker := range tags.Markers {
			assert.EqualValues(t, marker.Frame, m.CuePoints[i].Position)
			assert.EqualValues(t, marker.Frame, m.CuePoints[i].SampleOffset)
			assert.Equal(t, "data", string(m.CuePoints[i].DataChunkID[:]))
		}
		require.Len(t, m.SamplerInfo.Loops, 1)
		assert.EqualValues(t, 0, m.SamplerInfo.Loops[0].Type)
		assert.EqualValues(t, 0, m.SamplerInfo.Loops[0].Start)
		assert.EqualValues(t, 4999, m.SamplerInfo.Loops[0].End)
		assert.EqualValues(t, 0, m.SamplerInfo.Loops[0].PlayCount)
		assert.InDelta(t, 1e9/float64(f.Rate), float64(m.SamplerInfo.SamplePeriod), 0.5)
	}
}

// The library given the same samples one by one is the reference for the chunks that
// hold them.
func TestWAVHasTheLibrarysOwnFormatAndData(t *testing.T) {
	left, right := ramps(3001)
	for _, f := range []Format{{Depth: 16, Rate: 44100}, {Depth: 24, Rate: 48000}} {
		ours := encode(t, f, Tags{}, left, right, 1000)
		theirs := libraryWAV(t, f, stepsFor(f.Depth, left, right))
		const fromFormat = 12
		end := wavHeadBytes + 3001*2*f.Depth/8
		assert.Equal(t, theirs[fromFormat:end], ours[fromFormat:end])
	}
}

func libraryWAV(t testing.TB, f Format, samples []int) []byte {
	var file memoryFile
	lib := wav.NewEncoder(&file, f.Rate, f.Depth, 2, 1)
	require.NoError(t, lib.Write(&audio.IntBuffer{
		Format: &audio.Format{NumChannels: 2, SampleRate: f.Rate},
		Data:   samples,
	}))
	require.NoError(t, lib.Close())
	return file.bytes
}

// Multimedia Programming Interface and Data Specifications 1.0, chapter 2: a
// chunk is an identifier, a size without header and padding, its content, and
// a zero byte where the size is odd; the RIFF size covers all that follows it.
func TestWAVChunksAreWellFormed(t *testing.T) {
	left, right := ramps(101)
	for _, depth := range []int{16, 24} {
		for _, label := range []string{"", "x", "xy", "xyz"} {
			file := encode(t, Format{Depth: depth}, Tags{
				Title: label, Software: label + "s", Comment: label + "cc",
				Markers: []Marker{{3, label}, {100, label + "!"}}, Loop: true,
			}, left, right, 101)

			le := binary.LittleEndian
			require.Equal(t, "RIFF", string(file[:4]))
			require.Equal(t, "WAVE", string(file[8:12]))
			require.EqualValues(t, len(file)-8, le.Uint32(file[4:]))

			ids := chunks(t, file[12:], func(id string, content []byte) {
				switch id {
				case "fmt ":
					assert.EqualValues(t, 16, len(content))
					assert.EqualValues(t, 1, le.Uint16(content[0:]), "linear PCM")
					assert.EqualValues(t, 44100*2*depth/8, le.Uint32(content[8:]), "bytes a second")
					assert.EqualValues(t, 2*depth/8, le.Uint16(content[12:]), "block alignment")
				case "data":
					assert.Len(t, content, 101*2*depth/8)
				case "cue ":
					assert.Len(t, content, 4+2*24)
				case "smpl":
					assert.Len(t, content, 36+24)
				case "LIST":
					var texts []string
					subs := chunks(t, content[4:], func(id string, content []byte) {
						if id == "labl" {
							content = content[4:]
						}
						texts = append(texts, string(bytes.TrimRight(content, "\x00")))
						assert.EqualValues(t, 0, content[len(content)-1], "text ends with zero")
					})
					switch string(content[:4]) {
					case "adtl":
						assert.Equal(t, []string{"labl", "labl"}, subs)
						assert.Equal(t, []string{label, label + "!"}, texts)
					case "INFO":
						assert.Contains(t, subs, "ISFT")
						assert.Contains(t, texts, label+"s")
					default:
						t.Errorf("LIST of type %q", content[:4])
					}
				}
			})
			assert.Equal(t, []string{"fmt ", "data", "cue ", "LIST", "smpl", "LIST", "id3 "}, ids)
		}
	}
}

// chunks calls visit with each chunk and returns their identifiers.
func chunks(t *testing.T, from []byte, visit func(id string, content []byte)) (ids []string) {
	for len(from) > 0 {
		require.GreaterOrEqual(t, len(from), 8)
		id, size := string(from[:4]), int(binary.LittleEndian.Uint32(from[4:]))
		padded := size + size%2
		require.LessOrEqual(t, 8+padded, len(from), "chunk %q", id)
		visit(id, from[8:8+size])
		if padded > size {
			require.Zero(t, from[8+size], "padding of %q", id)
		}
		ids = append(ids, id)
		from = from[8+padded:]
	}
	return ids
}

// What the chunks hold, byte by byte: ID3v2.3.0 (from memory), and acid as sequencers
// read it (common practice, from memory).
func TestWAVHasItsTagsWherePlayersLook(t *testing.T) {
	left, right := ramps(44100)
	file := encode(t, Format{}, Tags{
		Title: "Añejo", Artist: "A Teacher", Album: "First Lines", Track: 3, Tracks: 9,
		Tempo: 120, Beats: 2, Meter: [2]int{3, 4}, KeySign: "F#m", Loop: true,
	}, left, right, 44100)
	found := map[string][]byte{}
	chunks(t, file[12:], func(id string, content []byte) { found[id] = content })

	id3 := found["id3 "]
	require.Equal(t, "ID3\x03\x00\x00", string(id3[:6]))
	size := int(id3[6])<<21 | int(id3[7])<<14 | int(id3[8])<<7 | int(id3[9])
	require.Len(t, id3, 10+size)
	texts := map[string]string{}
	for frames := id3[10:]; len(frames) > 0; {
		length := int(binary.BigEndian.Uint32(frames[4:]))
		text := frames[10 : 10+length]
		require.Equal(t, []byte{1, 0xff, 0xfe}, text[:3])
		var units []uint16
		for i := 3; i < len(text); i += 2 {
			units = append(units, binary.LittleEndian.Uint16(text[i:]))
		}
		texts[string(frames[:4])] = string(utf16.Decode(units))
		frames = frames[10+length:]
	}
	assert.Equal(t, map[string]string{
		"TIT2": "Añejo", "TPE1": "A Teacher", "TALB": "First Lines", "TRCK": "3/9", "TBPM": "120", "TKEY": "F#m",
	}, texts)

	acid := found["acid"]
	require.Len(t, acid, 24)
	le := binary.LittleEndian
	assert.Zero(t, le.Uint32(acid), "a loop, which can be stretched")
	assert.EqualValues(t, 2, le.Uint32(acid[12:]), "beats")
	assert.EqualValues(t, 4, le.Uint16(acid[16:]))
	assert.EqualValues(t, 3, le.Uint16(acid[18:]))
	assert.InDelta(t, 120, math.Float32frombits(le.Uint32(acid[20:])), 1e-6)
}

func TestWAVOverFourGibibytesIsRefused(t *testing.T) {
	frames := (1<<32 - 100) / 4
	_, err := NewEncoder(io.Discard, Format{}, frames, Tags{})
	require.NoError(t, err)
	_, err = NewEncoder(io.Discard, Format{}, frames+100, Tags{})
	require.ErrorContains(t, err, "4 GiB")
}

func TestWAVWithoutFramesIsAFile(t *testing.T) {
	dec := wav.NewDecoder(bytes.NewReader(encode(t, Format{}, Tags{Title: "x"}, nil, nil, 1)))
	require.NoError(t, dec.FwdToPCM())
	assert.Zero(t, dec.PCMLen())
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestWAVReportsAFailedWrite(t *testing.T) {
	left, right := ramps(200_000)
	enc, err := NewEncoder(brokenWriter{}, Format{}, len(left), Tags{})
	require.NoError(t, err)
	require.ErrorIs(t, Quantise(16, 1, enc).Write(left, right), io.ErrShortWrite)
	require.ErrorIs(t, enc.Close(Level{}), io.ErrShortWrite)
}

func BenchmarkWAV(b *testing.B) {
	const frames = 60 * 44100
	left, right := soundtest.Noise(frames)
	for _, depth := range []int{16, 24} {
		name := map[int]string{16: "16-bit", 24: "24-bit"}[depth]
		b.Run(name, func(b *testing.B) {
			b.SetBytes(frames * 2 * int64(depth) / 8)
			for b.Loop() {
				enc, err := NewEncoder(io.Discard, Format{Depth: depth}, frames, Tags{})
				require.NoError(b, err)
				out := Quantise(depth, 1, enc)
				for at := 0; at < frames; at += 4410 {
					require.NoError(b, out.Write(left[at:at+4410], right[at:at+4410]))
				}
				require.NoError(b, enc.Close(Level{}))
			}
			soundtest.PerFrame(b, frames)
		})
		b.Run(name+"/library-alone", func(b *testing.B) {
			samples := stepsFor(depth, left, right)
			b.SetBytes(frames * 2 * int64(depth) / 8)
			for b.Loop() {
				libraryWAV(b, Format{Depth: depth, Rate: 44100}, samples)
			}
			soundtest.PerFrame(b, frames)
		})
	}
}
