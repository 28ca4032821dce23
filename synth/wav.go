package synth

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/go-audio/wav"
)

// wavEncoder writes a RIFF/WAVE file: fmt and data chunks, then cue, LIST adtl
// and smpl where the tags ask for them, then LIST INFO.
//
// github.com/go-audio/wav composes everything but the samples. Its own way to
// take samples costs a call of encoding/binary for each one, about as long as
// making the sample; since the length is known beforehand, the library is run
// once on a file without samples, and the data chunk is filled between what it
// wrote before and what it wrote after. So nothing is seeked either.
type wavEncoder struct {
	w           io.Writer
	tail        []byte // what follows the samples
	q           quantiser
	left, right [blockFrames]int32
	payload     []byte // samples not yet written to w
	err         error  // the first error of w
}

const (
	// blockFrames is how many frames are quantised at once: two channels of
	// them stay in the processor's nearest cache.
	blockFrames = 1024
	// payloadBytes is the size of a write: large enough that the number of
	// system calls does not matter.
	payloadBytes = 256 << 10
	// wavHeadBytes is the length of a RIFF header, a fmt chunk of PCM and the
	// header of the data chunk.
	wavHeadBytes = 12 + 8 + 16 + 8
)

func newWAVEncoder(w io.Writer, f Format, frames int, t Tags) (*wavEncoder, error) {
	head, tail, err := wavFrame(f, frames, t)
	if err != nil {
		return nil, err
	}
	e := &wavEncoder{
		w:       w,
		tail:    tail,
		q:       quantiser{depth: f.Depth},
		payload: make([]byte, 0, payloadBytes),
	}
	e.payload = append(e.payload, head...)
	return e, nil
}

func (e *wavEncoder) Write(left, right []float32) error {
	for len(left) > 0 && e.err == nil {
		n := min(len(left), blockFrames)
		e.q.quantise(e.left[:n], e.right[:n], left[:n], right[:n])
		bytes := n * 2 * e.q.depth / 8
		if len(e.payload)+bytes > cap(e.payload) {
			e.flush()
		}
		end := len(e.payload)
		e.payload = e.payload[:end+bytes]
		packPCM(e.payload[end:], e.left[:n], e.right[:n], e.q.depth)
		left, right = left[n:], right[n:]
	}
	return e.err
}

func (e *wavEncoder) flush() {
	if e.err == nil {
		_, e.err = e.w.Write(e.payload)
	}
	e.payload = e.payload[:0]
}

func (e *wavEncoder) Close() error {
	e.flush()
	if e.err == nil {
		_, e.err = e.w.Write(e.tail)
	}
	return e.err
}

// packPCM interleaves two channels of steps into little-endian samples of 16
// or 24 bits.
func packPCM(pcm []byte, left, right []int32, depth int) {
	right = right[:len(left)]
	if depth == 16 {
		for i, l := range left {
			if len(pcm) < 4 {
				return
			}
			binary.LittleEndian.PutUint32(pcm, uint32(uint16(l))|uint32(right[i])<<16)
			pcm = pcm[4:]
		}
		return
	}
	for i, l := range left {
		if len(pcm) < 6 {
			return
		}
		r := uint32(right[i])
		binary.LittleEndian.PutUint32(pcm, uint32(l)&0xffffff|r<<24)
		binary.LittleEndian.PutUint16(pcm[4:], uint16(r>>8))
		pcm = pcm[6:]
	}
}

// wavFrame returns what stands before and after the samples of a file.
func wavFrame(f Format, frames int, t Tags) (head, tail []byte, err error) {
	var file memoryFile
	// The library reserves a minute's worth of samples at the rate that it is
	// given; none pass through it, so it hears of the true rate afterwards.
	const channels, pcm, noRate = 2, 1, 1
	lib := wav.NewEncoder(&file, noRate, f.Depth, channels, pcm)
	lib.SampleRate = f.Rate
	// An empty frame makes it write the headers, and counts as one frame.
	if err := lib.WriteFrame([]byte{}); err != nil {
		return nil, nil, fmt.Errorf("composing the WAV header: %w", err)
	}
	if err := lib.AddLE(append(cueChunks(t.Markers), smplChunk(f, frames, t)...)); err != nil {
		return nil, nil, fmt.Errorf("composing the WAV markers: %w", err)
	}
	lib.Metadata = &wav.Metadata{
		Title:    evenZ(t.Title),
		Software: evenZ(t.Software),
		Comments: evenZ(t.Comment),
	}
	// Close computes the sizes from these: the one frame has the channels of
	// all the frames, and their bytes count as written. No padding is needed,
	// since a stereo frame is a whole number of words.
	payload := frames * channels * f.Depth / 8
	lib.NumChans = channels * frames
	lib.WrittenBytes += payload
	if err := lib.Close(); err != nil {
		return nil, nil, fmt.Errorf("composing the WAV tags: %w", err)
	}
	if size := int64(payload) + int64(len(file.bytes)); size > math.MaxUint32 {
		return nil, nil, fmt.Errorf("%d frames of %d bits make a file of %d bytes; a WAV file holds at most 4 GiB", frames, f.Depth, size)
	}
	return file.bytes[:wavHeadBytes], file.bytes[wavHeadBytes:], nil
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

// evenZ returns s such that it is a whole number of words once the library has
// ended it with a zero byte: it omits the padding that RIFF asks for.
func evenZ(s string) string {
	if s != "" && len(s)%2 == 0 {
		return s + "\x00"
	}
	return s
}

// memoryFile is a file in memory that can be written anywhere.
type memoryFile struct {
	bytes []byte
	at    int
}

func (m *memoryFile) Write(p []byte) (int, error) {
	if grow := m.at + len(p) - len(m.bytes); grow > 0 {
		m.bytes = append(m.bytes, make([]byte, grow)...)
	}
	copy(m.bytes[m.at:], p)
	m.at += len(p)
	return len(p), nil
}

func (m *memoryFile) Seek(offset int64, whence int) (int64, error) {
	switch whence {
	case io.SeekCurrent:
		offset += int64(m.at)
	case io.SeekEnd:
		offset += int64(len(m.bytes))
	}
	if offset < 0 {
		return 0, fmt.Errorf("seek to %d", offset)
	}
	m.at = int(offset)
	return offset, nil
}
