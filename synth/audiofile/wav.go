package audiofile

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/go-audio/wav"
)

// wavEncoder writes a RIFF/WAVE file: fmt and data chunks, then cue, LIST adtl
// smpl and acid where the tags ask for them, then LIST INFO and id3.
//
// github.com/go-audio/wav writes what is around the samples. Its ways to take these cost
// a call of encoding/binary for each one, about as long as making the sample, or a copy;
// so they pass it by.
type wavEncoder struct {
	lib  *wav.Encoder
	out  *bufio.Writer
	tail []byte // what follows the samples
}

// writeBytes is the size of a write: large enough that the number of system calls
// does not matter, and few enough for the processor's nearer caches.
const writeBytes = 64 << 10

func newWAVEncoder(w io.Writer, f Format, frames int, t Tags) (*wavEncoder, error) {
	const channels, pcm, noRate = 2, 1, 1
	tail := slices.Concat(cueChunks(t.Markers), smplChunk(f, frames, t), acidChunk(t), infoChunk(t), id3Chunk(t))
	samples := int64(frames) * channels * int64(f.Depth) / 8
	size := wavHeadBytes + samples + int64(len(tail))
	if size > math.MaxUint32 {
		return nil, fmt.Errorf("%d frames of %d bits make a file of %d bytes; a WAV file holds at most 4 GiB", frames, f.Depth, size)
	}
	out := bufio.NewWriterSize(w, writeBytes)
	stream := &wavStream{w: out, riffSize: uint32(size - 8), dataSize: uint32(samples)}
	e := &wavEncoder{
		// The library reserves a minute's worth of samples at the rate that it is
		// given; none wait there, so it hears of the true rate afterwards.
		lib:  wav.NewEncoder(stream, noRate, f.Depth, channels, pcm),
		out:  out,
		tail: tail,
	}
	e.lib.SampleRate = f.Rate
	return e, e.lib.WriteFrame([]byte{}) // the head, and no samples
}

func (e *wavEncoder) Write(pcm []byte) (int, error) { return e.out.Write(pcm) }

func (e *wavEncoder) Close(Level) error {
	return cmp.Or(e.lib.AddLE(e.tail), e.lib.Close(), e.out.Flush())
}

// The head of a file: a RIFF header, a fmt chunk of PCM and the header of the data
// chunk; and where two sizes stand in it.
const (
	wavHeadBytes = 12 + 8 + 16 + 8
	riffSizeAt   = 4
	dataSizeAt   = wavHeadBytes - 4
)

// wavStream is what the library writes to. The library leaves the sizes open and
// goes back at the end to fill in what it has counted. A stream cannot go back, and
// its length is known beforehand: the sizes are put in as the head comes by, and
// what the library writes after it has gone back is left out.
type wavStream struct {
	w                  io.Writer
	riffSize, dataSize uint32
	head               []byte // until it is complete
	headed, closing    bool
}

func (s *wavStream) Write(p []byte) (int, error) {
	switch {
	case s.closing:
		return len(p), nil
	case s.headed:
		return s.w.Write(p)
	}
	s.head = append(s.head, p...)
	if len(s.head) < wavHeadBytes {
		return len(p), nil
	}
	s.headed = true
	binary.LittleEndian.PutUint32(s.head[riffSizeAt:], s.riffSize)
	binary.LittleEndian.PutUint32(s.head[dataSizeAt:], s.dataSize)
	if _, err := s.w.Write(s.head); err != nil {
		return 0, err
	}
	return len(p), nil
}

func (s *wavStream) Seek(offset int64, _ int) (int64, error) {
	s.closing = true
	return offset, nil
}

// cueChunks returns a cue chunk with a point for each marker, and a LIST adtl
// chunk with their labels (Multimedia Programming Interface 1.0, chapter 3,
// "Cue-Points Chunk" and "Associated Data Chunk"); nothing without markers.
func cueChunks(markers []Marker) []byte {
	if len(markers) == 0 {
		return nil
	}
	le := binary.LittleEndian
	cue := le.AppendUint32(nil, uint32(len(markers)))
	labels := []byte("adtl")
	for i, m := range markers {
		id := uint32(i + 1)
		cue = le.AppendUint32(cue, id)
		cue = le.AppendUint32(cue, uint32(m.Frame)) // position in play order
		cue = append(cue, "data"...)
		cue = le.AppendUint32(cue, 0) // chunk start: no wave list
		cue = le.AppendUint32(cue, 0) // block start: uncompressed
		cue = le.AppendUint32(cue, uint32(m.Frame))

		label := append(le.AppendUint32(nil, id), m.Label...)
		labels = appendChunk(labels, "labl", append(label, 0))
	}
	return appendChunk(appendChunk(nil, "cue ", cue), "LIST", labels)
}

// smplChunk returns a sampler chunk whose one loop is the whole file, played
// forward without end (Multimedia Data Standards Update 1994, "Sampler
// Chunk"); nothing when the file is not a loop. Loop ends are counted in
// frames, the last one included (common practice).
func smplChunk(f Format, frames int, t Tags) []byte {
	if !t.Loop || frames == 0 {
		return nil
	}
	const middleC = 60
	var smpl []byte
	for _, field := range []uint32{
		0, 0, // manufacturer, product: none in particular
		uint32(math.Round(1e9 / float64(f.Rate))), // sample period in nanoseconds
		middleC, 0, // unity note, pitch fraction
		0, 0, // SMPTE format, offset
		1, 0, // number of loops, bytes of sampler data
		0, 0, // loop: identifier, forward
		0, uint32(frames - 1), // first and last frame
		0, 0, // fraction, play count: without end
	} {
		smpl = binary.LittleEndian.AppendUint32(smpl, field)
	}
	return appendChunk(nil, "smpl", smpl)
}

// infoChunk returns a LIST INFO chunk with what the tags say (Multimedia Programming
// Interface 1.0, chapter 2, "INFO List Chunk").
func infoChunk(t Tags) []byte {
	list := []byte("INFO")
	for _, entry := range []struct{ id, text string }{
		{"IART", t.Artist},
		{"ICMT", t.Comment},
		{"INAM", t.Title},
		{"IPRD", t.Album},
		{"ISFT", t.Software},
		{"ITRK", t.trackNumber()},
	} {
		if entry.text != "" {
			list = appendChunk(list, entry.id, zeroEnded(entry.text))
		}
	}
	return appendChunk(nil, "LIST", list)
}

// acidChunk returns a chunk from which sequencers take the tempo and, of a loop, the
// number of beats; nothing where the tempo changes. No standard has it; what its fields
// mean is common practice, from memory.
func acidChunk(t Tags) []byte {
	if t.Tempo == 0 {
		return nil
	}
	const oneShot = 1 // played once, and not stretched
	kind := uint32(oneShot)
	if t.Loop {
		kind = 0
	}
	le := binary.LittleEndian
	acid := le.AppendUint32(nil, kind)
	acid = append(acid, 0, 0, 0, 0x80, 0, 0, 0, 0) // no root note; two fields of unknown use
	acid = le.AppendUint32(acid, uint32(t.Beats))
	acid = le.AppendUint16(acid, uint16(t.Meter[1]))
	acid = le.AppendUint16(acid, uint16(t.Meter[0]))
	acid = le.AppendUint32(acid, math.Float32bits(float32(t.Tempo)))
	return appendChunk(nil, "acid", acid)
}

// id3Chunk returns the tags once more as ID3 has them (common practice: the chunk is
// named in lower case).
func id3Chunk(t Tags) []byte {
	if id3 := t.id3(); id3 != nil {
		return appendChunk(nil, "id3 ", id3)
	}
	return nil
}

// zeroEnded returns a text as RIFF files have it, ended by a zero, and by another
// where it would have an odd length: some readers forget that a chunk is padded.
func zeroEnded(text string) []byte {
	ended := append([]byte(text), 0)
	if len(ended)%2 == 1 {
		ended = append(ended, 0)
	}
	return ended
}

// appendChunk appends a RIFF chunk, padded to a whole number of words.
func appendChunk(to []byte, id string, content []byte) []byte {
	to = append(to, id...)
	to = binary.LittleEndian.AppendUint32(to, uint32(len(content)))
	to = append(to, content...)
	if len(content)%2 == 1 {
		to = append(to, 0)
	}
	return to
}
