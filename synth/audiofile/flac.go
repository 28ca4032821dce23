package audiofile

import (
	"bufio"
	"fmt"
	"io"
	"time"

	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
	"github.com/mewkiz/flac/meta"
)

// flacEncoder writes a FLAC stream (RFC 9639) in blocks of fixed size.
// github.com/mewkiz/flac writes it; what it leaves open is decided here: which
// channels a frame holds, and each subframe's predictor. The library's own
// analysis knows fixed predictors with one Rice parameter; it decides about the
// subframes that are left, constant or verbatim.
type flacEncoder struct {
	w           io.Writer
	out         *flacWriter
	lib         *flac.Encoder
	rate        int
	depth       int
	left, right [flacBlock]int32
	filled      int // frames in the block not yet complete
	predict     predictor
}

// flacBlock is the number of frames in a block, the usual size at these rates.
const flacBlock = 4096

func newFLACEncoder(w io.Writer, f Format, frames int, t Tags) (*flacEncoder, error) {
	out := &flacWriter{Writer: bufio.NewWriterSize(w, packedBytes)}
	streamInfo := &meta.StreamInfo{
		BlockSizeMin:  flacBlock,
		BlockSizeMax:  flacBlock,
		SampleRate:    uint32(f.Rate),
		NChannels:     2,
		BitsPerSample: uint8(f.Depth),
		NSamples:      uint64(frames),
	}
	lib, err := flac.NewEncoder(out, streamInfo, vorbisComment(f, t))
	if err != nil {
		return nil, fmt.Errorf("composing the FLAC header: %w", err)
	}
	return &flacEncoder{w: w, out: out, lib: lib, rate: f.Rate, depth: f.Depth}, nil
}

func (e *flacEncoder) Write(left, right []float32) error {
	for len(left) > 0 {
		n := min(len(left), flacBlock-e.filled)
		stepsOf(e.left[e.filled:], left[:n], e.depth)
		stepsOf(e.right[e.filled:], right[:n], e.depth)
		e.filled += n
		left, right = left[n:], right[n:]
		if e.filled == flacBlock {
			if err := e.writeBlock(); err != nil {
				return err
			}
		}
	}
	return nil
}

func (e *flacEncoder) writeBlock() error {
	left, right := e.left[:e.filled], e.right[:e.filled]
	e.filled = 0
	channels, first, second := e.predict.stereo(left, right, e.depth)
	return e.lib.WriteFrame(&frame.Frame{
		Header: frame.Header{
			HasFixedBlockSize: true,
			BlockSize:         uint16(len(left)),
			SampleRate:        uint32(e.rate),
			Channels:          channels,
			BitsPerSample:     uint8(e.depth),
		},
		// The library makes mid and side itself.
		Subframes: []*frame.Subframe{
			{SubHeader: first, Samples: left, NSamples: len(left)},
			{SubHeader: second, Samples: right, NSamples: len(right)},
		},
	})
}

// Close completes the stream and, where the writer can seek, its STREAMINFO.
func (e *flacEncoder) Close() error {
	if e.filled > 0 {
		if err := e.writeBlock(); err != nil {
			return err
		}
	}
	if err := e.out.Flush(); err != nil {
		return err
	}
	seeker, ok := e.w.(io.Seeker)
	if !ok {
		return nil
	}
	// The library fills in the checksum as it closes. It also counts the last
	// block among those that have the least size, which RFC 9639 section 8.2
	// excludes; so the header is composed once more, right, and put in place.
	e.out.done = true
	if err := e.lib.Close(); err != nil {
		return fmt.Errorf("completing the FLAC header: %w", err)
	}
	e.lib.Info.BlockSizeMin, e.lib.Info.BlockSizeMax = flacBlock, flacBlock
	var head memoryFile
	if _, err := flac.NewEncoder(&head, e.lib.Info, e.lib.Blocks...); err != nil {
		return fmt.Errorf("completing the FLAC header: %w", err)
	}
	if _, err := seeker.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if _, err := e.w.Write(head.bytes); err != nil {
		return err
	}
	_, err := seeker.Seek(0, io.SeekEnd)
	return err
}

// flacWriter is what the library writes to. It lets the library seek and write
// its header again as it closes, and keeps that from the file.
type flacWriter struct {
	*bufio.Writer
	done bool
}

func (w *flacWriter) Write(p []byte) (int, error) {
	if w.done {
		return len(p), nil
	}
	return w.Writer.Write(p)
}

func (w *flacWriter) Seek(offset int64, _ int) (int64, error) { return offset, nil }

// vorbisComment returns the tags in the form that RFC 9639 section 8.6 takes
// over from Vorbis. Markers are chapters, CHAPTER001 and CHAPTER001NAME and so
// on (Xiph's chapter extension; from memory), since the cue sheet of section
// 8.7 holds 254 points and no labels; chapters have three digits, so that
// markers after the first 999 are left out.
func vorbisComment(f Format, t Tags) *meta.Block {
	comment := &meta.VorbisComment{Vendor: "github.com/mewkiz/flac"}
	add := func(name, value string) {
		if value != "" {
			comment.Tags = append(comment.Tags, [2]string{name, value})
		}
	}
	add("TITLE", t.Title)
	add("ENCODER", t.Software)
	add("DESCRIPTION", t.Comment)
	const most = 999
	for i, m := range t.Markers[:min(len(t.Markers), most)] {
		chapter := fmt.Sprintf("CHAPTER%03d", i+1)
		add(chapter, clock(m.Frame, f.Rate))
		add(chapter+"NAME", m.Label)
	}
	const composed = 1 // any length but 0, which means an empty block
	return &meta.Block{
		Header: meta.Header{Type: meta.TypeVorbisComment, Length: composed},
		Body:   comment,
	}
}

// clock returns the time of a frame, at, as hours:minutes:seconds.milliseconds.
func clock(at, rate int) string {
	ms := (int64(at)*1000 + int64(rate)/2) / int64(rate)
	d := time.Duration(ms) * time.Millisecond
	return fmt.Sprintf("%02d:%02d:%02d.%03d", int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60, ms%1000)
}
