// Package index writes a page over a folder of kits, from which each is found by
// key, position, tempo and chord. It reads the kits' descriptions and nothing else,
// and works as a file, without a server.
package index

import (
	"bytes"
	"cmp"
	_ "embed"
	"errors"
	"html/template"
	"io/fs"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
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
	Tempos                       []int
	Chords                       []string
	Page, Sheet                  *link
	Tracks                       []link
}

// A link leads to a file of a kit.
type link struct {
	Text string
	To   template.URL
}

// Write writes the page over the kits that are in a folder. Several runs that fill
// one folder may call it at the same time: the last to write has seen all kits.
func Write(folder string) error {
	for {
		entries, err := read(folder)
		if err != nil {
			return err
		}
		var out bytes.Buffer
		if err := page.Execute(&out, entries); err != nil {
			return err
		}
		if err := replace(filepath.Join(folder, Name), out.Bytes()); err != nil {
			return err
		}
		after, err := read(folder)
		if err != nil {
			return err
		}
		same := slices.EqualFunc(entries, after, func(a, b entry) bool { return a.Folder == b.Folder })
		if same {
			return nil
		}
	}
}

// replace writes a page of ours, whole or not at all.
func replace(path string, text []byte) error {
	old, err := os.ReadFile(path)
	switch {
	case err == nil && !bytes.Contains(old, []byte(mark)):
		return errors.New(path + " is a page that this program has not written")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	draft, err := os.CreateTemp(filepath.Dir(path), ".index-*.html")
	if err != nil {
		return err
	}
	_, err = draft.Write(text)
	err = errors.Join(err, draft.Chmod(0o644), draft.Close())
	if err == nil {
		err = os.Rename(draft.Name(), path)
	}
	if err != nil {
		os.Remove(draft.Name())
	}
	return err
}

// read lists the kits in a folder: by title, key and position, and where those are the
// same in the order of their names.
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
		return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.Key, b.Key), cmp.Compare(a.along(), b.along()))
	})
	return entries, nil
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
	e := entry{Folder: folder, Title: m.Title, Key: m.Key, Position: m.Position, Tempos: m.Tempos}
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
			to.Text = strings.TrimPrefix(strings.TrimSuffix(f.Name, filepath.Ext(f.Name)), folder+"-")
			e.Tracks = append(e.Tracks, to)
		}
	}
	return e
}
