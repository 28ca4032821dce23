package page

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
)

// A Shell is a page but for what it holds, and the engine that goes with it, as
// generate builds them.
type Shell struct {
	HTML   []byte
	Engine []byte // gzip
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
	strips, err := Strips(s)
	if err != nil {
		return err
	}
	held, err := compressed(struct {
		Piece  Piece        `json:"piece"`
		Strips []Strip      `json:"strips"`
		Score  *score.Score `json:"score"`
	}{Describe(s, name, gain), strips, s})
	if err != nil {
		return err
	}
	return shell.write(w, map[string]string{
		"{title}":  html.EscapeString(s.Title),
		"{piece}":  held,
		"{engine}": base64.StdEncoding.EncodeToString(shell.Engine),
	})
}

// WriteKit writes the practice page of a kit; see [kit.Kit].
func (shell Shell) WriteKit(w io.Writer, k kit.Kit, gain float64) error {
	return shell.WritePractice(w, k.Name, k.Score, gain)
}

// Sum returns a hash of the page and its engine; see [kit.Page].
func (shell Shell) Sum() string {
	page, engine := sha256.Sum256(shell.HTML), sha256.Sum256(shell.Engine)
	return hex.EncodeToString(page[:]) + hex.EncodeToString(engine[:])
}

// write writes the shell with what it holds in the places that are marked for it,
// each of which stands in it once.
func (shell Shell) write(w io.Writer, held map[string]string) error {
	rest := string(shell.HTML)
	for rest != "" {
		at, mark := len(rest), ""
		for m := range held {
			if i := strings.Index(rest, m); i >= 0 && i < at {
				at, mark = i, m
			}
		}
		if _, err := io.WriteString(w, rest[:at]+held[mark]); err != nil {
			return err
		}
		rest = rest[at+len(mark):]
		delete(held, mark)
	}
	if len(held) > 0 {
		return fmt.Errorf("the page has no place for %d things that it holds", len(held))
	}
	return nil
}

// compressed returns a value as base64 of gzip of JSON, which no text in it can
// make markup of.
func compressed(value any) (string, error) {
	var text bytes.Buffer
	packed := gzip.NewWriter(&text)
	if err := json.NewEncoder(packed).Encode(value); err != nil {
		return "", err
	}
	if err := packed.Close(); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(text.Bytes()), nil
}
