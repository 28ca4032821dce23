package synth

import (
	"errors"
	"io"
)

func newFLACEncoder(w io.Writer, f Format, frames int, t Tags) (Encoder, error) {
	return nil, errors.New("FLAC")
}
