// Package bench does the work of the workbench: it reads what is being written,
// arranges it, shows it, rewrites it, and makes kits of it. The page is in the
// scripts, and the engine is between them; here is what they ask for.
package bench

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"unicode"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/neckmap"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/paper/tab"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/board"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/web/page"
	"thirdwise/synth/audiofile"
	"thirdwise/theory/neck"
)

// A Bench has one exercise on it at a time.
type Bench struct {
	file    string // its name, or ""
	written *exercise.Exercise
	score   *score.Score
	paper   *paper.Notation
	memory  arrange.Memory
	strips  int        // how many have been set
	strip   page.Strip // the last of them
}

// An Arranged is an exercise that was read: what was found, and unless there are
// mistakes its music.
type Arranged struct {
	Findings source.Findings `json:"findings"`       // [] where there are none
	Name     string          `json:"name,omitempty"` // of its kit
	Strip    *page.Strip     `json:"strip,omitempty"`
	Number   int             `json:"number,omitempty"` // of the strip, from 1
}

// Arrange reads and arranges the text of an exercise and sets its music in rows
// of a width in staff spaces, on the staves that are named. The file's name may be
// empty. The number is that of the strip that the page shows, 0 for none: if it is the
// last, rows that are in it are not drawn again. What cannot be arranged leaves what is
// on the bench as it is.
func (b *Bench) Arrange(file, text string, width float64, staves string, shown int) (Arranged, error) {
	written, err := exercise.Parse(file, []byte(text))
	if err != nil {
		return failed(err)
	}
	arranged, findings, err := b.memory.Arrange(written)
	if err != nil {
		return failed(err)
	}
	b.file, b.written, b.score, b.paper = file, written, arranged, paper.Notate(arranged)
	var rows []page.Row
	if shown == b.strips {
		rows = b.strip.Rows
	}
	strip, err := page.Redraw(b.paper, width, staves, rows)
	if err != nil {
		return Arranged{}, err
	}
	b.strips, b.strip = b.strips+1, strip
	return Arranged{Findings: append(source.Findings{}, findings...), Name: b.name(), Strip: &strip, Number: b.strips}, nil
}

// failed returns what keeps an exercise from being arranged.
func failed(err error) (Arranged, error) {
	var findings source.Findings
	if errors.As(err, &findings) {
		return Arranged{Findings: findings}, nil
	}
	return Arranged{}, err
}

var errNothing = errors.New("no exercise is on the bench")

// A Played is what a page needs to play the exercise: the piece, and its score as JSON
// for the engine that plays it.
type Played struct {
	Piece page.Piece `json:"piece"`
	Score string     `json:"score"`
}

// Played returns what is needed to play the exercise, with a gain in dB.
func (b *Bench) Played(gain float64) (Played, error) {
	if b.score == nil {
		return Played{}, errNothing
	}
	text, err := json.Marshal(b.score)
	return Played{page.Describe(b.score, b.name(), gain), string(text)}, err
}

// name returns the name of the kit.
func (b *Bench) name() string { return kit.Name(b.file, b.score.Title) }

// Board returns what a teacher would write on a board.
func (b *Bench) Board() (string, error) {
	var text bytes.Buffer
	if b.score == nil {
		return "", errNothing
	}
	err := board.Write(&text, b.written.Chart, b.score)
	return text.String(), err
}

// Tab returns the tab as text.
func (b *Bench) Tab() (string, error) {
	var text bytes.Buffer
	if b.score == nil {
		return "", errNothing
	}
	err := tab.Write(&text, b.paper)
	return text.String(), err
}

// Neck returns the map of the key on the neck, as text.
func (b *Bench) Neck() (string, error) {
	if b.score == nil {
		return "", errNothing
	}
	var text bytes.Buffer
	m := neckmap.Map{Key: b.score.Key, Neck: b.score.Neck, Position: neck.Free}
	if err := neckmap.WriteDiagram(&text, m); err != nil {
		return "", err
	}
	text.WriteString("\n")
	err := neckmap.WritePositions(&text, m)
	return text.String(), err
}

// Printed returns the sheet as it is printed, as SVG.
func (b *Bench) Printed() (string, error) {
	if b.score == nil {
		return "", errNothing
	}
	laid, err := sheet.Lay(b.paper, sheet.Options{Paper: drawing.A4})
	if err != nil {
		return "", err
	}
	var svg bytes.Buffer
	err = drawing.WriteSVG(&svg, laid)
	return svg.String(), err
}

// Kit writes the kit of the exercise, as the command line makes it of a file of
// that name with those mixes, into a store; of mixes in which nothing sounds it makes
// none. Progress is told how many of all files are complete.
func (b *Bench) Kit(file string, practice page.Shell, mixes []score.Mix, into kit.Store, progress func(done, all int)) error {
	if b.score == nil {
		return errNothing
	}
	k := kit.Kit{
		Name: kit.Name(file, b.score.Title), Exercise: file, Score: b.score,
		Mixes:    slices.DeleteFunc(slices.Clone(mixes), func(m score.Mix) bool { return m != score.NoMix && m.Silent(b.score) }),
		NoAudio:  slices.Contains(mixes, score.NoMix),
		Format:   audiofile.Format{}.WithDefaults(),
		Loudness: -18, Sheet: sheet.Options{Paper: drawing.A4},
		Page: practice,
	}
	_, err := k.Write(context.Background(), into, progress)
	return err
}

// Move returns the text of the exercise on the bench in another key of the same
// mode: its key and the symbols of its chart, in their places, are written anew.
// Degrees and numerals stay.
func (b *Bench) Move(text, to string) (string, error) {
	written, err := exercise.Parse("", []byte(text))
	if err != nil {
		return "", err
	}
	key, err := written.TargetKey(to)
	if err != nil {
		return "", err
	}
	moved := exercise.Transpose(written, key)
	lines := strings.Split(text, "\n")
	var changes []source.Mend
	for i, bar := range written.Chart {
		for j, c := range bar.Chords {
			if isSymbol(lines, c) {
				changes = append(changes, source.Mend{Pos: c.At.Pos, Length: c.At.Length, Text: moved.Chart[i].Chords[j].Chord.ASCII()})
			}
		}
	}
	slices.SortFunc(changes, func(x, y source.Mend) int { // from the end, so that places stay
		return cmp.Or(y.Line-x.Line, y.Column-x.Column)
	})
	for _, c := range changes {
		c.WriteTo(lines)
	}
	for i, line := range lines {
		if setting, rest, ok := strings.Cut(line, ":"); ok && strings.EqualFold(strings.TrimSpace(setting), "key") {
			comment := ""
			if at := strings.Index(rest, " #"); at >= 0 {
				comment = rest[len(strings.TrimRight(rest[:at], " ")):]
			}
			lines[i] = setting + ": " + key.ASCII() + comment
		}
	}
	return strings.Join(lines, "\n"), nil
}

// isSymbol reports whether a chord is written as a symbol where it stands: not as
// a degree, a numeral, or the sign that repeats a bar.
func isSymbol(lines []string, c chart.Chord) bool {
	if c.None || c.Numeral != "" {
		return false
	}
	at := []rune(lines[c.At.Line-1])[c.At.Column-1]
	return at != '%' && !unicode.IsDigit(at)
}

// Starter returns the text of a first exercise.
func (b *Bench) Starter() string { return exercise.Starter }
