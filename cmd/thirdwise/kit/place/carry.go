package place

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// ownFiles returns the names of those files in a folder that the program made and
// nobody has changed.
func ownFiles(ctx context.Context, folder string, inventory Inventory) (map[string]bool, error) {
	own := map[string]bool{}
	within, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(within) == 0 {
		return own, nil
	}
	listed, err := inventory(folder)
	if err != nil {
		return nil, err
	}
	for name, sum := range listed {
		if sum == "" {
			own[name] = true
			continue
		}
		found, hashErr := Hash(ctx, filepath.Join(folder, name))
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		own[name] = hashErr == nil && found == sum
	}
	return own, nil
}

// Hash returns the SHA-256 of a file in lower-case hexadecimal.
func Hash(ctx context.Context, path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, reader{ctx, file}); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// A reader reads until its context ends.
type reader struct {
	ctx context.Context
	io.Reader
}

func (r reader) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.Reader.Read(p)
}

// carryOver brings into one folder what lies in another and is not the program's
// own. Where the name is taken, it gets another.
func carryOver(ctx context.Context, from, to string, own map[string]bool) error {
	entries, err := os.ReadDir(from)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if own[e.Name()] {
			continue
		}
		if err := duplicate(filepath.Join(from, e.Name()), freeName(filepath.Join(to, e.Name())), e); err != nil {
			return err
		}
	}
	return nil
}

// freeName returns a path, or where something is there already the next that is
// free: "my notes (kept).txt", "my notes (kept 2).txt". One of which that cannot be known
// is returned too: whoever uses it learns why.
func freeName(path string) string {
	ending := filepath.Ext(path)
	next := path
	for n := 1; ; n++ {
		if _, err := os.Lstat(next); err != nil {
			return next
		}
		mark := " (kept)"
		if n > 1 {
			mark = fmt.Sprintf(" (kept %d)", n)
		}
		next = strings.TrimSuffix(path, ending) + mark + ending
	}
}

// duplicate makes a file, a link or a folder be in a second place too: as the same
// file, where the file system can have one in two places.
func duplicate(from, to string, e fs.DirEntry) error {
	switch {
	case e.IsDir():
		if err := os.Mkdir(to, 0o777); err != nil {
			return err
		}
		within, err := os.ReadDir(from)
		for _, w := range within {
			err = errors.Join(err, duplicate(filepath.Join(from, w.Name()), filepath.Join(to, w.Name()), w))
		}
		entry, infoErr := e.Info()
		if err = errors.Join(err, infoErr); err != nil {
			return err
		}
		return permit(to, entry.Mode().Perm())
	case e.Type()&fs.ModeSymlink != 0:
		points, err := os.Readlink(from)
		if err != nil {
			return err
		}
		return os.Symlink(points, to)
	case os.Link(from, to) == nil:
		return nil
	}
	return copyFile(from, to)
}

func copyFile(from, to string) error {
	entry, err := os.Stat(from)
	if err != nil {
		return err
	}
	if !entry.Mode().IsRegular() {
		return fmt.Errorf("%s is not a file", from)
	}
	source, err := os.Open(from)
	if err != nil {
		return err
	}
	defer source.Close()
	copied, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, entry.Mode().Perm())
	if err != nil {
		return err
	}
	_, err = io.Copy(copied, source)
	return errors.Join(err, copied.Close(), os.Chtimes(to, entry.ModTime(), entry.ModTime()))
}

// rescue empties a folder that was replaced: what is not the program's own and is
// not in the new folder yet, since it came at the last moment, goes there. Only once all
// of it has is the rest removed.
func rescue(old, fresh string, own map[string]bool) error {
	entries, err := os.ReadDir(old)
	for _, e := range entries {
		path := filepath.Join(old, e.Name())
		if !own[e.Name()] && !isIn(path, filepath.Join(fresh, e.Name()), e) {
			err = errors.Join(err, os.Rename(path, freeName(filepath.Join(fresh, e.Name()))))
		}
	}
	if err != nil {
		return err // what lists the program's own files is among the rest
	}
	for _, e := range entries {
		err = errors.Join(err, os.RemoveAll(filepath.Join(old, e.Name())))
	}
	return errors.Join(err, os.Remove(old))
}

// isIn reports whether an entry is in the new folder too, under its own name or
// under the one that it got there.
func isIn(path, there string, e fs.DirEntry) bool {
	ending := filepath.Ext(there)
	kept, err := filepath.Glob(escapeGlob(strings.TrimSuffix(there, ending)) + " (kept*)" + escapeGlob(ending))
	if err != nil {
		return false
	}
	for _, candidate := range append([]string{there}, kept...) {
		if alike(path, candidate, e) {
			return true
		}
	}
	return false
}

// alike reports whether two entries hold the same.
func alike(a, b string, e fs.DirEntry) bool {
	x, errX := os.Lstat(a)
	y, errY := os.Lstat(b)
	switch {
	case errX != nil || errY != nil || x.Mode().Type() != y.Mode().Type():
		return false
	case e.IsDir():
		within, err := os.ReadDir(a)
		for _, w := range within {
			if !alike(filepath.Join(a, w.Name()), filepath.Join(b, w.Name()), w) {
				return false
			}
		}
		return err == nil
	case e.Type()&fs.ModeSymlink != 0:
		to, err := os.Readlink(a)
		other, otherErr := os.Readlink(b)
		return err == nil && otherErr == nil && to == other
	}
	return os.SameFile(x, y) || x.Mode().IsRegular() && x.Size() == y.Size() && sameBytes(a, b)
}

// sameBytes reports whether two files hold the same. They are hashed rather than read as a
// whole: a recording that lies in a kit may be larger than the memory.
func sameBytes(a, b string) bool {
	x, err := Hash(context.Background(), a)
	y, otherErr := Hash(context.Background(), b)
	return err == nil && otherErr == nil && x == y
}
