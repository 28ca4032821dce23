// Package index writes a page over a folder of kits, from which each is found by
// key, position, tempo and chord. It reads the kits' descriptions and nothing else,
// and works as a file, without a server.
package index

import (
	"bytes"
	"cmp"
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Name is that of the page.
const Name = "index.html"

// mark is in every page of ours, so that no other is written over.
const mark = `<meta name="generator" content="thirdwise">`

//go:embed index.html
var source string

var page = template.Must(template.New(Name).Parse(source))

// An entry is a kit as the page lists it.
type entry struct {
	Folder, Title, Key, Position string
	Details                      []string // what else tells it from others
	Density                      int
	Tempos                       []int
	Chords                       []string
	Page, Sheet                  *link
	Tracks                       []atTempo
}

// An atTempo is the tracks at one tempo, or those that climb from one to another.
type atTempo struct {
	Tempo string
	Mixes []link
}

// words are what the tracks of a mix are called to a student.
var words = map[string]string{
	score.Full.String():            "all parts",
	score.Backing.String():         "without the guide",
	score.Guide.String():           "guide and click",
	score.ClickAlone.String():      "click alone",
	score.ChordsAlone.String():     "chords alone",
	score.GuideUpperAlone.String(): "upper voice alone",
	score.GuideLowerAlone.String(): "lower voice alone",
	score.BassAlone.String():       "bass alone",
	score.GrooveAlone.String():     "groove alone",
	score.Loop.String():            "to loop",
	score.Turns.String():           "in turns",
}

// A link leads to a file of a kit.
type link struct {
	Text string
	To   template.URL
}

// Write writes the page over the kits that are in a folder. Several runs that fill
// one folder may call it at the same time: the last to write has seen all kits.
func Write(drafts *place.Drafts, folder string) error {
	for {
		entries, err := read(folder)
		if err != nil {
			return err
		}
		var out bytes.Buffer
		if err := page.Execute(&out, entries); err != nil {
			return err
		}
		if err := replace(drafts, filepath.Join(folder, Name), out.Bytes()); err != nil {
			return err
		}
		after, err := read(folder)
		if err != nil {
			return err
		}
		if reflect.DeepEqual(entries, after) {
			return nil
		}
	}
}

// IsIn reports whether a folder has a page that this program has written.
func IsIn(folder string) bool {
	text, err := os.ReadFile(filepath.Join(folder, Name))
	return err == nil && bytes.Contains(text, []byte(mark))
}

// replace writes a page of ours, and over no other.
func replace(drafts *place.Drafts, path string, text []byte) error {
	old, err := os.ReadFile(path)
	switch {
	case err == nil && !bytes.Contains(old, []byte(mark)):
		return errors.New(path + " is a page that this program has not written")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	return drafts.WriteFile(path, text)
}

// read lists the kits in a folder: by title, key, position and density, and where those
// are the same in the order of their names.
func read(folder string) ([]entry, error) {
	within, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var entries []entry
	for _, e := range within {
		if !e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if m, err := kit.ReadManifest(filepath.Join(folder, e.Name())); err == nil {
			entries = append(entries, describe(e.Name(), m))
		}
	}
	slices.SortStableFunc(entries, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.Key, b.Key), cmp.Compare(a.along(), b.along()), cmp.Compare(a.Density, b.Density))
	})
	tellDensities(entries)
	return entries, nil
}

// tellDensities adds to the details of kits that differ by their density what it is. A
// denser line may have found another position.
func tellDensities(entries []entry) {
	for i := range entries {
		e := &entries[i]
		if slices.ContainsFunc(entries, func(o entry) bool {
			return o.Title == e.Title && o.Key == e.Key && o.Density != e.Density
		}) {
			e.Details = append(e.Details, fmt.Sprintf("density %d %%", e.Density))
		}
	}
}

// along returns how far up the neck a kit's position lies; the whole neck comes last.
func (e entry) along() int {
	switch fret, err := strconv.Atoi(e.Position); {
	case err == nil:
		return fret
	case e.Position == "open":
		return 0
	default:
		return math.MaxInt
	}
}

func describe(folder string, m kit.Manifest) entry {
	e := entry{Folder: folder, Title: m.Title, Key: m.Key, Position: m.Position, Density: m.Density, Tempos: m.Tempos}
	for _, words := range []string{m.Subtitle, m.By} {
		if words != "" {
			e.Details = append(e.Details, words)
		}
	}
	if m.Capo > 0 {
		e.Details = append(e.Details, fmt.Sprintf("capo %d", m.Capo))
	}
	if tuning, err := neck.ParseTuning(strings.Join(m.Tuning, " ")); err == nil && tuning.String() != neck.Standard().String() {
		e.Details = append(e.Details, "tuning "+tuning.String())
	}
	if e.Position == "free" { // as the exercise writes it
		e.Position = "whole neck"
	}
	if key, err := theory.ParseKey(m.Key); err == nil {
		e.Key = key.String()
	}
	for _, bar := range m.Bars {
		for _, chord := range bar.Chords {
			symbol := chord.Symbol
			if spelled, err := theory.ParseChord(symbol); err == nil {
				symbol = spelled.String()
			}
			if chord.Numeral != "" && !slices.Contains(e.Chords, symbol) {
				e.Chords = append(e.Chords, symbol)
			}
		}
	}
	for _, f := range m.Files {
		to := link{To: template.URL(url.PathEscape(folder) + "/" + url.PathEscape(f.Name))}
		switch {
		case f.Kind == kit.KindPage:
			e.Page = &to
		case f.Kind == kit.KindSheet && filepath.Ext(f.Name) == ".pdf":
			e.Sheet = &to
		case f.Kind == kit.KindAudio:
			to.Text = cmp.Or(words[f.Mix], f.Mix)
			e.addTrack(tempoOf(f), to)
		}
	}
	return e
}

// tempoOf returns the tempo of a track as it is listed.
func tempoOf(f kit.File) string {
	if f.Climb {
		return "climb"
	}
	return strconv.Itoa(f.Tempo)
}

// addTrack lists a track with those of its tempo.
func (e *entry) addTrack(tempo string, track link) {
	if n := len(e.Tracks); n > 0 && e.Tracks[n-1].Tempo == tempo {
		e.Tracks[n-1].Mixes = append(e.Tracks[n-1].Mixes, track)
		return
	}
	e.Tracks = append(e.Tracks, atTempo{tempo, []link{track}})
}
