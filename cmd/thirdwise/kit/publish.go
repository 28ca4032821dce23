package kit

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// A draft is a kit's folder in the making. It stands beside the folder that it
// is to become, so that renaming makes it that one in a single step.
type draft struct {
	target   string   // the folder to become
	workshop string   // a hidden folder in the same place, which holds the draft
	made     []string // folders that had to be made for the target, outermost first
}

// newDraft begins the draft of a kit's folder.
func newDraft(target string) (_ *draft, err error) {
	d := &draft{target: target}
	defer func() {
		if err != nil {
			err = errors.Join(err, d.discard())
		}
	}()
	if err := checkTarget(target); err != nil {
		return nil, err
	}
	place := filepath.Dir(target)
	if d.made, err = makeFolders(place); err != nil {
		return nil, err
	}
	if d.workshop, err = os.MkdirTemp(place, ".thirdwise-*"); err != nil {
		return nil, err
	}
	return d, os.Mkdir(d.folder(), 0o777)
}

// folder is where the draft's files are written.
func (d *draft) folder() string { return filepath.Join(d.workshop, filepath.Base(d.target)) }

// publish makes the draft the kit. What was in its place goes into the workshop.
//
// The files are not forced to the disk: what is promised is that a reader, or
// an interrupted program, never meets half a kit, not that a kit outlives a
// power cut in the second that it was made in.
func (d *draft) publish() error {
	return replace(d.folder(), d.target, filepath.Join(d.workshop, "replaced"))
}

// discard removes what is left of the draft: all of it and the folders made for
// it, or, once it is published, what was in its place before.
func (d *draft) discard() error {
	var err error
	if d.workshop != "" {
		err = os.RemoveAll(d.workshop)
	}
	for i := len(d.made) - 1; i >= 0; i-- {
		os.Remove(d.made[i]) // fails, rightly, where there is something in it
	}
	return err
}

// replace puts the folder fresh in the place of target. What stood there is
// moved aside, and moved back where fresh cannot take its place.
func replace(fresh, target, aside string) error {
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(fresh, target)
	}
	if exchange(fresh, target) == nil {
		return nil
	}
	if err := os.Rename(target, aside); err != nil {
		return err
	}
	if err := os.Rename(fresh, target); err != nil {
		return errors.Join(err, os.Rename(aside, target))
	}
	return nil
}

// makeFolders makes a folder and those above it that are missing. It returns
// the ones it made, outermost first.
func makeFolders(path string) (made []string, err error) {
	for missing := path; ; missing = filepath.Dir(missing) {
		if _, err := os.Stat(missing); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		made = append([]string{missing}, made...)
	}
	return made, os.MkdirAll(path, 0o777)
}

// checkTarget returns an error where something stands in a kit's place that
// must not be replaced: anything but a kit or an empty folder.
func checkTarget(target string) error {
	entry, err := os.Lstat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !entry.IsDir():
		return fmt.Errorf("%s exists and is not a folder; move it, or choose another output folder with -o", target)
	}
	text, err := os.ReadFile(filepath.Join(target, ManifestName))
	var manifest struct{ Software string }
	if err == nil && json.Unmarshal(text, &manifest) == nil && strings.HasPrefix(manifest.Software, "thirdwise ") {
		return nil
	}
	if within, err := os.ReadDir(target); err == nil && len(within) == 0 {
		return nil
	}
	return fmt.Errorf("%s is a folder with other things than a kit in it; move it, or choose another output folder with -o", target)
}

// write creates a file and has it written. It fills in how many bytes it has,
// and their hash.
func (d *draft) write(f *File, write func(io.Writer) error) error {
	file, err := d.create(f.Name)
	if err != nil {
		return err
	}
	buffer := bufio.NewWriter(file)
	err = write(buffer)
	if err == nil {
		err = buffer.Flush()
	}
	if err == nil {
		err = file.measure(f)
	}
	return errors.Join(err, file.Close())
}

// A measuredFile is a file that is counted and hashed as it is written, so that
// it need not be read again. Only where a writer went back to change what it
// wrote is it read.
type measuredFile struct {
	*os.File
	sum     hash.Hash
	bytes   int64
	changed bool
}

func (d *draft) create(name string) (*measuredFile, error) {
	file, err := os.OpenFile(filepath.Join(d.folder(), name), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	return &measuredFile{File: file, sum: sha256.New()}, err
}

// Write writes to the file.
func (m *measuredFile) Write(p []byte) (int, error) {
	n, err := m.File.Write(p)
	m.sum.Write(p[:n])
	m.bytes += int64(n)
	return n, err
}

// Seek moves to another place of the file.
func (m *measuredFile) Seek(offset int64, whence int) (int64, error) {
	m.changed = true
	return m.File.Seek(offset, whence)
}

// measure fills in how many bytes the file has, and their hash.
func (m *measuredFile) measure(f *File) error {
	if m.changed {
		if _, err := m.File.Seek(0, io.SeekStart); err != nil {
			return err
		}
		m.sum.Reset()
		n, err := io.Copy(m.sum, m.File)
		if err != nil {
			return err
		}
		m.bytes = n
	}
	f.Bytes, f.SHA256 = m.bytes, hex.EncodeToString(m.sum.Sum(nil))
	return nil
}
