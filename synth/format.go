package synth

import (
	"errors"
	"fmt"
	"io"
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
	Rate      int // samples a second in each channel: 44100 or 48000
	Depth     int // bits a sample: 16 or 24
}

// check reports what is wrong with the format, nil when nothing is.
func (f Format) check() error {
	f = f.withDefaults()
	if f.Container != WAV && f.Container != FLAC {
		return fmt.Errorf("unknown audio container %d", int(f.Container))
	}
	if f.Rate != 44100 && f.Rate != 48000 {
		return fmt.Errorf("sample rate %d Hz is not supported: want 44100 or 48000", f.Rate)
	}
	if f.Depth != 16 && f.Depth != 24 {
		return fmt.Errorf("depth of %d bits is not supported: want 16 or 24", f.Depth)
	}
	return nil
}

func (f Format) withDefaults() Format {
	if f.Rate == 0 {
		f.Rate = 44100
	}
	if f.Depth == 0 {
		f.Depth = 16
	}
	return f
}

// Tags is what a file says about itself beside its samples.
type Tags struct {
	Title    string
	Software string
	Comment  string
	Markers  []Marker // in rising order of Frame
	Loop     bool     // the whole file repeats without a seam; only WAV can say so
}

// Marker labels a place in a file.
type Marker struct {
	Frame int // frames from the start of the file, less than its length
	Label string
}

// encoder takes the samples of one file in blocks, left and right of equal
// length, full scale ±1. Samples beyond full scale are held to it.
// Close completes the file; it does not close the writer underneath.
type encoder interface {
	Write(left, right []float32) error
	Close() error
}

// newEncoder returns an encoder that writes a file of the given number of
// stereo frames to w. Markers outside the file, a file too long for its
// container, and more or fewer frames than promised are errors.
//
// A FLAC stream begins with a checksum of all its samples, which is known only
// at the end: where w is also an io.Seeker the checksum is filled in, and w
// must then stand at its beginning; otherwise it is left unset, as RFC 9639
// section 8.2 allows. WAV never seeks.
func newEncoder(w io.Writer, f Format, frames int, t Tags) (encoder, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	if frames < 0 {
		return nil, fmt.Errorf("a file of %d frames", frames)
	}
	if err := t.check(frames); err != nil {
		return nil, err
	}
	var (
		enc encoder
		err error
	)
	f = f.withDefaults()
	switch f.Container {
	case FLAC:
		enc, err = newFLACEncoder(w, f, frames, t)
	default:
		enc, err = newWAVEncoder(w, f, frames, t)
	}
	if err != nil {
		return nil, err
	}
	return &exactEncoder{enc: enc, want: frames}, nil
}

func (t Tags) check(frames int) error {
	last := 0
	for _, m := range t.Markers {
		if m.Frame < last {
			return fmt.Errorf("marker %q at frame %d comes after one at frame %d", m.Label, m.Frame, last)
		}
		if m.Frame >= frames {
			return fmt.Errorf("marker %q at frame %d is outside the file of %d frames", m.Label, m.Frame, frames)
		}
		last = m.Frame
	}
	return nil
}

// exactEncoder holds an encoder to the number of frames that it was promised.
type exactEncoder struct {
	enc       encoder
	got, want int
}

func (e *exactEncoder) Write(left, right []float32) error {
	if len(left) != len(right) {
		return fmt.Errorf("block of %d samples left and %d right", len(left), len(right))
	}
	e.got += len(left)
	if e.got > e.want {
		return fmt.Errorf("more than the %d frames that the file was to hold", e.want)
	}
	return e.enc.Write(left, right)
}

func (e *exactEncoder) Close() error {
	err := e.enc.Close()
	if e.got != e.want {
		short := fmt.Errorf("the file holds %d frames of %d", e.got, e.want)
		return errors.Join(short, err)
	}
	return err
}
