package audiofile

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"time"

	"thirdwise/synth/exact"

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
	format      Format
	tags        Tags
	frames      int // in all
	written     int // frames
	seek        *meta.SeekTable
	left, right [flacBlock]int32
	filled      int // frames in the block not yet complete
	predict     predictor
}

// flacBlock is the number of frames in a block, the usual size at these rates.
const flacBlock = 4096

func newFLACEncoder(w io.Writer, f Format, frames int, t Tags) (*flacEncoder, error) {
	out := &flacWriter{Writer: bufio.NewWriterSize(w, writeBytes)}
	streamInfo := &meta.StreamInfo{
		BlockSizeMin:  flacBlock,
		BlockSizeMax:  flacBlock,
		SampleRate:    uint32(f.Rate),
		NChannels:     2,
		BitsPerSample: uint8(f.Depth),
		NSamples:      uint64(frames),
	}
	e := &flacEncoder{w: w, out: out, format: f, tags: t, frames: frames, seek: seekTable(f, frames)}
	lib, err := flac.NewEncoder(out, streamInfo, e.blocks(nil)...)
	if err != nil {
		return nil, fmt.Errorf("composing the FLAC header: %w", err)
	}
	e.lib = lib
	out.bytes = 0 // places are counted from the first block of samples
	return e, nil
}

// blocks returns the metadata behind STREAMINFO, which have the same length before the
// level is known and afterwards.
func (e *flacEncoder) blocks(l *Level) []*meta.Block {
	const composed = 1 // any length but 0, which means an empty block
	comment := &meta.Block{
		Header: meta.Header{Type: meta.TypeVorbisComment, Length: composed},
		Body:   vorbisComment(e.format, e.tags, e.frames, l),
	}
	if len(e.seek.Points) == 0 {
		return []*meta.Block{comment}
	}
	return []*meta.Block{{Header: meta.Header{Type: meta.TypeSeekTable, Length: composed}, Body: e.seek}, comment}
}

// seekSeconds is the time between two points of a seek table.
const seekSeconds = 10

// seekTable returns a table (RFC 9639, section 8.5) of points whose places are yet to
// be found: until then they count for nothing.
func seekTable(f Format, frames int) *meta.SeekTable {
	table := new(meta.SeekTable)
	for at := 0; at < frames; at += seekSeconds * f.Rate {
		table.Points = append(table.Points, meta.SeekPoint{SampleNum: meta.PlaceholderPoint})
	}
	return table
}

// note puts down where the block that is written next lies, if it holds the point of a
// table that comes next.
func (e *flacEncoder) note(length int) {
	point := (e.written + seekSeconds*e.format.Rate - 1) / (seekSeconds * e.format.Rate)
	if at := point * seekSeconds * e.format.Rate; at < e.written+length && point < len(e.seek.Points) {
		e.seek.Points[point] = meta.SeekPoint{SampleNum: uint64(e.written), Offset: uint64(e.out.bytes), NSamples: uint16(length)}
	}
	e.written += length
}

func (e *flacEncoder) Write(pcm []byte) (int, error) {
	size := frameBytes(e.format.Depth)
	for at := 0; at < len(pcm); {
		n := min((len(pcm)-at)/size, flacBlock-e.filled)
		unpack(e.left[e.filled:e.filled+n], e.right[e.filled:], pcm[at:], e.format.Depth)
		e.filled += n
		at += n * size
		if e.filled == flacBlock {
			if err := e.writeBlock(); err != nil {
				return at, err
			}
		}
	}
	return len(pcm), nil
}

// unpack fills left and right with the samples of PCM of a depth in bits.
func unpack(left, right []int32, pcm []byte, depth int) {
	size := frameBytes(depth)
	for i := range left {
		if f := pcm[i*size : (i+1)*size]; depth == 16 {
			both := binary.LittleEndian.Uint32(f)
			left[i], right[i] = int32(int16(both)), int32(both)>>16
		} else {
			left[i] = int32(binary.LittleEndian.Uint32(f)<<8) >> 8
			right[i] = int32(binary.LittleEndian.Uint32(f[2:])) >> 8
		}
	}
}

func (e *flacEncoder) writeBlock() error {
	left, right := e.left[:e.filled], e.right[:e.filled]
	e.filled = 0
	e.note(len(left))
	channels, first, second := e.predict.stereo(left, right, e.format.Depth)
	return e.lib.WriteFrame(&frame.Frame{
		Header: frame.Header{
			HasFixedBlockSize: true,
			BlockSize:         uint16(len(left)),
			SampleRate:        uint32(e.format.Rate),
			Channels:          channels,
			BitsPerSample:     uint8(e.format.Depth),
		},
		// The library makes mid and side itself.
		Subframes: []*frame.Subframe{
			{SubHeader: first, Samples: left, NSamples: len(left)},
			{SubHeader: second, Samples: right, NSamples: len(right)},
		},
	})
}

// Close completes the stream and, where the writer can seek, its metadata.
func (e *flacEncoder) Close(l Level) error {
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
	if _, err := flac.NewEncoder(&head, e.lib.Info, e.blocks(&l)...); err != nil {
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
	done  bool
	bytes int // that came by
}

func (w *flacWriter) Write(p []byte) (int, error) {
	if w.done {
		return len(p), nil
	}
	w.bytes += len(p)
	return w.Writer.Write(p)
}

func (w *flacWriter) Seek(offset int64, _ int) (int64, error) { return offset, nil }

// vorbisComment returns the tags in the form that RFC 9639 section 8.6 takes
// over from Vorbis. Markers are chapters, CHAPTER001 and CHAPTER001NAME and so
// on (Xiph's chapter extension; from memory), since the cue sheet of section
// 8.7 holds 254 points and no labels; chapters have three digits, so that
// markers after the first 999 are left out. The names of the others are common practice;
// the gain is that of ReplayGain 2.0, which plays everything at −18 LUFS (from memory),
// and 0 until the level is known.
func vorbisComment(f Format, t Tags, frames int, l *Level) *meta.VorbisComment {
	comment := &meta.VorbisComment{Vendor: "github.com/mewkiz/flac"}
	add := func(name, value string) {
		if value != "" {
			comment.Tags = append(comment.Tags, [2]string{name, value})
		}
	}
	add("TITLE", t.Title)
	add("ARTIST", t.Artist)
	add("ALBUM", t.Album)
	if t.Track > 0 {
		add("TRACKNUMBER", fmt.Sprint(t.Track))
	}
	if t.Tracks > 0 {
		add("TRACKTOTAL", fmt.Sprint(t.Tracks))
	}
	add("BPM", t.beatsPerMinute())
	add("KEY", t.Key)
	if t.Loop {
		add("LOOPSTART", "0")
		add("LOOPLENGTH", fmt.Sprint(frames))
	}
	gain, peak := replayGain(l)
	add("REPLAYGAIN_TRACK_GAIN", gain)
	add("REPLAYGAIN_TRACK_PEAK", peak)
	add("ENCODER", t.Software)
	add("DESCRIPTION", t.Comment)
	const most = 999
	for i, m := range t.Markers[:min(len(t.Markers), most)] {
		chapter := fmt.Sprintf("CHAPTER%03d", i+1)
		add(chapter, clock(m.Frame, f.Rate))
		add(chapter+"NAME", m.Label)
	}
	return comment
}

// replayGain returns gain and peak as texts, as long before the level is known as they are
// afterwards.
func replayGain(l *Level) (gain, peak string) {
	const reference = -18 // LUFS
	var decibels, amplitude float64
	if l != nil && !math.IsInf(l.Loudness, 0) {
		decibels = min(99, max(-99, reference-l.Loudness))
		amplitude = min(9, exact.Amplitude(l.TruePeak))
	}
	return fmt.Sprintf("%+06.2f dB", decibels), fmt.Sprintf("%.6f", amplitude)
}

// clock returns the time of a frame, at, as hours:minutes:seconds.milliseconds.
func clock(at, rate int) string {
	ms := (int64(at)*1000 + int64(rate)/2) / int64(rate)
	d := time.Duration(ms) * time.Millisecond
	return fmt.Sprintf("%02d:%02d:%02d.%03d", int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60, ms%1000)
}
