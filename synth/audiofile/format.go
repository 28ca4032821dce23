package audiofile

import (
	"errors"
	"fmt"
	"io"
	"slices"
)

// Container is the kind of file that samples are written to.
type Container int

// The containers. WAV is RIFF/WAVE with linear PCM (Multimedia Programming
// Interface and Data Specifications 1.0), FLAC is RFC 9639.
const (
	WAV Container = iota
	FLAC
)

// String returns the container's name, which is also the extension of its
// files: "wav" or "flac".
func (c Container) String() string {
	switch c {
	case WAV:
		return "wav"
	case FLAC:
		return "flac"
	}
	return fmt.Sprintf("Container(%d)", int(c))
}

// UnmarshalText sets c to the container named by text, as String names it.
func (c *Container) UnmarshalText(text []byte) error {
	for _, known := range []Container{WAV, FLAC} {
		if string(text) == known.String() {
			*c = known
			return nil
		}
	}
	return fmt.Errorf("unknown audio format %q: want wav or flac", text)
}

// Format says how the samples of a file are written. A zero field means its
// default: WAV, 44,100 Hz, 16 bits. Files are always stereo.
type Format struct {
	Container Container
	Rate      int // samples a second in each channel, one of Rates
	Depth     int // bits a sample, one of Depths
}

// Rates returns the rates that files can have, in samples a second, the default
// first.
func Rates() []int { return []int{44100, 48000} }

// Depths returns the depths that files can have, in bits a sample, the default first.
// Samples of 16 bits are dithered.
func Depths() []int { return []int{16, 24} }

// Check reports what is wrong with the format, nil when nothing is.
func (f Format) Check() error {
	f = f.WithDefaults()
	if f.Container != WAV && f.Container != FLAC {
		return fmt.Errorf("unknown audio container %d", int(f.Container))
	}
	if !slices.Contains(Rates(), f.Rate) {
		return fmt.Errorf("sample rate %d Hz is not supported: want one of %d", f.Rate, Rates())
	}
	if !slices.Contains(Depths(), f.Depth) {
		return fmt.Errorf("depth of %d bits is not supported: want one of %d", f.Depth, Depths())
	}
	return nil
}

// WithDefaults returns the format with its zero fields set.
func (f Format) WithDefaults() Format {
	if f.Rate == 0 {
		f.Rate = Rates()[0]
	}
	if f.Depth == 0 {
		f.Depth = Depths()[0]
	}
	return f
}

// A Writer takes the samples of a track in blocks, left and right of equal length,
// full scale ±1. What measures samples, changes them or writes them to a file is a
// Writer, and a track is written by a chain of these.
type Writer interface {
	Write(left, right []float32) error
}

// An Encoder writes the samples of one file, whole frames of linear PCM of its depth, as
// [Quantise] makes them: left and right in turn, signed, little-endian. It does not close
// the writer underneath.
type Encoder interface {
	io.Writer
	// Close completes the file, which may say how loud it is.
	Close(Level) error
}

// A Level is what was measured of a file's samples.
type Level struct {
	Loudness float64 // integrated, LUFS; −Inf for silence
	TruePeak float64 // dBTP; −Inf for silence
}

// NewEncoder returns an encoder that writes a file of the given number of
// stereo frames to w. Markers outside the file, a file too long for its
// container, and more or fewer frames than promised are errors.
//
// A FLAC stream begins with what is known only at its end: a checksum of all its
// samples, where its blocks lie, how loud it is. Where w is also an io.Seeker that is
// filled in, and w must then stand at its beginning; otherwise it is left unset, as RFC
// 9639 allows. WAV never seeks.
func NewEncoder(w io.Writer, f Format, frames int, t Tags) (Encoder, error) {
	if err := f.Check(); err != nil {
		return nil, err
	}
	if frames < 0 {
		return nil, fmt.Errorf("a file of %d frames", frames)
	}
	if err := t.check(frames); err != nil {
		return nil, err
	}
	var (
		enc Encoder
		err error
	)
	f = f.WithDefaults()
	switch f.Container {
	case FLAC:
		enc, err = newFLACEncoder(w, f, frames, t)
	default:
		enc, err = newWAVEncoder(w, f, frames, t)
	}
	if err != nil {
		return nil, err
	}
	return &exactEncoder{enc: enc, frame: frameBytes(f.Depth), want: frames}, nil
}

// exactEncoder holds an encoder to the number of frames that it was promised.
type exactEncoder struct {
	enc       Encoder
	frame     int // bytes
	got, want int
}

func (e *exactEncoder) Write(pcm []byte) (int, error) {
	if len(pcm)%e.frame != 0 {
		return 0, fmt.Errorf("%d bytes, which are no whole frames of %d", len(pcm), e.frame)
	}
	e.got += len(pcm) / e.frame
	if e.got > e.want {
		return 0, fmt.Errorf("more than the %d frames that the file was to hold", e.want)
	}
	return e.enc.Write(pcm)
}

func (e *exactEncoder) Close(l Level) error {
	err := e.enc.Close(l)
	if e.got != e.want {
		short := fmt.Errorf("the file holds %d frames of %d", e.got, e.want)
		return errors.Join(short, err)
	}
	return err
}
