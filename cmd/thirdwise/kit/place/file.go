package place

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile puts a file into its place, whole or not at all: what is there stays
// until the new one is complete. Into a link or a device it writes. It is for a few
// megabytes: meanwhile [Drafts.Abandon] waits.
func (all *Drafts) WriteFile(path string, text []byte) (err error) {
	mode := fs.FileMode(0)
	switch entry, err := os.Lstat(path); {
	case err == nil && !entry.Mode().IsRegular():
		return os.WriteFile(path, text, 0o666)
	case err == nil:
		mode = entry.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	all.mutex.Lock()
	defer all.mutex.Unlock()
	if all.abandoned {
		return errAbandoned
	}
	workshop, lock, err := openWorkshop(filepath.Dir(path))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, removeWorkshop(workshop, lock)) }()
	draft := filepath.Join(workshop, draftName, filepath.Base(path))
	if err := os.Mkdir(filepath.Dir(draft), 0o777); err != nil {
		return err
	}
	if err := os.WriteFile(draft, text, 0o666); err != nil {
		return err
	}
	if mode != 0 {
		if err := permit(draft, mode); err != nil {
			return err
		}
	}
	return os.Rename(draft, path)
}

// permit gives a file or a folder its permissions. Those that it has are not given again:
// some shared drives have the same for all, and refuse whatever would change them.
func permit(path string, mode fs.FileMode) error {
	entry, err := os.Stat(path)
	if err != nil || entry.Mode().Perm() == mode {
		return err
	}
	return os.Chmod(path, mode)
}
