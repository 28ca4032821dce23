package page

import (
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"io"
	"math"
	"strings"
	"sync"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
)

// A Shell is a page but for what it holds, and the engine that goes with it, as
// generate builds them. What all pages of it have in common is worked out once.
type Shell struct {
	html   string
	engine func() []byte // base64 of gzip
	sum    func() string
}

// NewShell returns the shell of a page and of an engine in gzip.
func NewShell(page, engine []byte) Shell {
	return Shell{
		html:   string(page),
		engine: sync.OnceValue(func() []byte { return base64.StdEncoding.AppendEncode(nil, engine) }),
		sum: sync.OnceValue(func() string {
			ofPage, ofEngine := sha256.Sum256(page), sha256.Sum256(engine)
			return hex.EncodeToString(ofPage[:]) + hex.EncodeToString(ofEngine[:])
		}),
	}
}

// usualGain is about the gain in dB of a kit's tracks, for a page without any.
const usualGain = -12

// WritePractice writes the practice page of a kit: what it is called, its score,
// and the gain in dB at which its tracks are, so that the page is as loud. A gain
// that is not a number is about that of most kits.
func (shell Shell) WritePractice(w io.Writer, name string, s *score.Score, gain float64) error {
	if math.IsNaN(gain) {
		gain = usualGain
	}
	gain = math.Round(gain*1e6) / 1e6 // processors differ in the last digit of a logarithm
	return shell.write(w, map[string]func(io.Writer) error{
		"{title}":  written([]byte(html.EscapeString(s.Title))),
		"{piece}":  func(w io.Writer) error { return writePiece(w, Describe(s, name, gain), s) },
		"{engine}": written(shell.engine()),
	})
}

// WriteKit writes the practice page of a kit; see [kit.Kit].
func (shell Shell) WriteKit(w io.Writer, k kit.Kit, gain float64) error {
	return shell.WritePractice(w, k.Name, k.Score, gain)
}

// Sum returns a hash of the page and its engine; see [kit.Page].
func (shell Shell) Sum() string { return shell.sum() }

// write writes the shell with what it holds in the places that are marked for it,
// each of which stands in it once.
func (shell Shell) write(w io.Writer, held map[string]func(io.Writer) error) error {
	rest := shell.html
	for rest != "" {
		at, mark := len(rest), ""
		for m := range held {
			if i := strings.Index(rest, m); i >= 0 && i < at {
				at, mark = i, m
			}
		}
		if _, err := io.WriteString(w, rest[:at]); err != nil {
			return err
		}
		if mark != "" {
			if err := held[mark](w); err != nil {
				return err
			}
		}
		rest = rest[at+len(mark):]
		delete(held, mark)
	}
	if len(held) > 0 {
		return fmt.Errorf("the page has no place for %d things that it holds", len(held))
	}
	return nil
}

// written returns what writes a text.
func written(text []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}
}

// packers pack pieces as gzip, one kit's after another's: a packer's tables are large.
// Most of a page is its engine. To pack a piece better would take as long as all else
// that a page is made of, for a fortieth of the page's size.
var packers = sync.Pool{New: func() any {
	packer, err := gzip.NewWriterLevel(nil, gzip.BestSpeed)
	if err != nil {
		panic(err) // the level is one
	}
	return packer
}}

// writePiece writes a piece with its score and its music in rows, as base64 of gzip
// of JSON, which no text in it can make markup of. A long chart's rows are large:
// they are in memory one width at a time.
func writePiece(w io.Writer, p Piece, s *score.Score) error {
	outer := base64.NewEncoder(base64.StdEncoding, w)
	packed := packers.Get().(*gzip.Writer)
	defer packers.Put(packed)
	packed.Reset(outer)
	values := json.NewEncoder(packed)
	values.SetEscapeHTML(false)
	io.WriteString(packed, `{"piece":`) // an error shows when it is closed
	if err := values.Encode(p); err != nil {
		return err
	}
	before := `,"strips":[`
	err := eachStrip(s, func(strip Strip) error {
		io.WriteString(packed, before)
		before = ","
		return values.Encode(strip)
	})
	if err != nil {
		return err
	}
	io.WriteString(packed, `],"score":`)
	if err := values.Encode(s); err != nil {
		return err
	}
	io.WriteString(packed, "}")
	return errors.Join(packed.Close(), outer.Close())
}
