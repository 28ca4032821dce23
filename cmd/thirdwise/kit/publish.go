package kit

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"thirdwise/cmd/thirdwise/kit/place"
)

// Check returns an error where the kit cannot be published in a folder: where
// something stands in its place that must not be replaced.
func (k Kit) Check(folder string) error {
	return place.Check(filepath.Join(folder, k.Name), k.inventory)
}

// Publish makes the kit in a folder, which is made where it is missing, and
// returns the kit's files. A kit of the same exercise is replaced, once the new
// one is complete, and what else lay in its folder goes over into the new one.
// Where publishing fails, or the context ends, all is left as it was. What could
// not be cleared up after the kit is in its place is told apart, as leftover.
//
// While it works, progress is told how many of all files are complete; never of
// two at once.
func (k Kit) Publish(ctx context.Context, drafts *place.Drafts, folder string, progress func(done, all int)) (files []File, leftover, err error) {
	d, err := drafts.Begin(filepath.Join(folder, k.Name), k.inventory)
	if err != nil {
		return nil, nil, err
	}
	defer func() { leftover = errors.Join(leftover, d.Discard()) }()
	if files, err = k.Write(ctx, d, progress); err != nil {
		return nil, nil, err
	}
	leftover, err = d.Publish(ctx)
	return files, leftover, err
}

// Unchanged returns the files of the kit where it is in a folder already: made of
// the same exercise with the same options, by this program and no older than its
// file, and each of the kit's files still whole. Otherwise it returns nil.
func (k Kit) Unchanged(ctx context.Context, folder string, program time.Time) []File {
	target := filepath.Join(folder, k.Name)
	m, err := ReadManifest(target)
	if err != nil || m.Source == "" || m.Source != k.source() {
		return nil
	}
	if entry, err := os.Stat(filepath.Join(target, ManifestName)); err != nil || entry.ModTime().Before(program) {
		return nil
	}
	for _, f := range m.Files {
		if sum, err := place.Hash(ctx, filepath.Join(target, f.Name)); err != nil || sum != f.SHA256 {
			return nil
		}
	}
	return append(m.Files, File{Name: ManifestName})
}

// source returns a hash of all that the kit is made of.
func (k Kit) source() string {
	made := struct {
		Software, Exercise string
		Kit                Kit
		Page               string
	}{Software: Software, Exercise: k.file(), Kit: k}
	if k.Page != nil {
		made.Page = k.Page.Sum()
	}
	text, err := json.Marshal(made)
	if err != nil {
		return "" // equal to no hash
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// Recover clears up in a folder what runs of the program that died have left
// there.
func Recover(ctx context.Context, drafts *place.Drafts, folder string) error {
	return drafts.Recover(ctx, folder, func(kit string) (map[string]string, error) {
		m, err := ReadManifest(kit)
		return m.sums(), err
	})
}

// file returns the name of the exercise's file as kit.json has it, "" where there is
// none. JSON is UTF-8: in a name that is not, the bytes that no character has are
// written out.
func (k Kit) file() string {
	if k.Exercise == "" {
		return ""
	}
	name := filepath.Base(k.Exercise)
	if utf8.ValidString(name) {
		return name
	}
	return strings.Trim(strconv.Quote(name), `"`)
}

// isOf reports whether the kit's exercise is in the file of a name. Where a file system
// takes cases or Unicode forms for the same, its name comes in several of them; where it
// does not, they may be two files, which only their folder tells.
func (k Kit) isOf(name string) bool {
	if name == k.file() {
		return true
	}
	if Folded(name) != Folded(k.file()) {
		return false
	}
	beside, err := os.ReadDir(filepath.Dir(k.Exercise))
	if err != nil {
		return true
	}
	return !slices.ContainsFunc(beside, func(e fs.DirEntry) bool { return e.Name() == name }) ||
		!slices.ContainsFunc(beside, func(e fs.DirEntry) bool { return e.Name() == filepath.Base(k.Exercise) })
}

// inventory tells which files of a folder are those of a kit of this exercise.
func (k Kit) inventory(folder string) (map[string]string, error) {
	m, err := ReadManifest(folder)
	if err != nil {
		return nil, err
	}
	if of := m.Exercise; of != "" && !k.isOf(of) {
		return nil, fmt.Errorf("is the kit of another exercise, %s", of)
	}
	return m.sums(), nil
}

// ReadManifest returns the description of the kit in a folder, or an error where
// the folder is no kit.
func ReadManifest(folder string) (Manifest, error) {
	var m Manifest
	text, err := os.ReadFile(filepath.Join(folder, ManifestName))
	if err == nil && json.Unmarshal(text, &m) == nil && strings.HasPrefix(m.Software, "thirdwise ") {
		return m, nil
	}
	return Manifest{}, errors.New("is a folder that does not hold a kit")
}

// sums returns the hashes of the kit's files by name, the manifest among them.
func (m Manifest) sums() map[string]string {
	sums := map[string]string{ManifestName: ""}
	for _, f := range m.Files {
		sums[f.Name] = f.SHA256
	}
	return sums
}
