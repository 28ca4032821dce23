package place

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

// What is in a workshop.
const (
	workshopPattern = ".thirdwise-*"
	lockName        = "lock"
	draftName       = "draft"
	replacedName    = "replaced"
)

// openWorkshop makes a workshop in a folder and locks it. Another run that looks
// for dead ones may come between the two, and remove it; then there is a next.
func openWorkshop(parent string) (workshop string, lock *flock.Flock, err error) {
	const attempts = 20
	for range attempts {
		if workshop, err = os.MkdirTemp(parent, workshopPattern); err != nil {
			return "", nil, err
		}
		path := filepath.Join(workshop, lockName)
		lock = flock.New(path)
		locked, lockErr := lock.TryLock()
		if lockErr != nil && !errors.Is(lockErr, fs.ErrNotExist) {
			return workshop, lock, nil // the file system has no locks, so nobody takes it for dead
		}
		held, err := lock.Stat()
		if there, thereErr := os.Stat(path); locked && err == nil && thereErr == nil && os.SameFile(held, there) {
			return workshop, lock, nil
		}
		lock.Close()
		os.RemoveAll(workshop)
	}
	return "", nil, errors.New("another run of the program is clearing up here; try again")
}

// removeWorkshop removes a workshop that it holds the lock of. Where the system
// lets it, the lock's file goes while it is locked: who waits for it then finds it
// gone.
func removeWorkshop(workshop string, lock *flock.Flock) error {
	err := errors.Join(os.RemoveAll(filepath.Join(workshop, draftName)), os.RemoveAll(filepath.Join(workshop, replacedName)))
	os.Remove(lock.Path())
	return errors.Join(err, lock.Close(), os.RemoveAll(workshop))
}

// Recover clears up in a folder what runs of the program that died have left
// there: it brings back folders that were set aside, and removes drafts. Those of
// runs that live are let be.
func (all *Drafts) Recover(ctx context.Context, parent string, inventory Inventory) error {
	workshops, err := filepath.Glob(filepath.Join(escapeGlob(parent), workshopPattern))
	if err != nil {
		return err
	}
	for _, workshop := range workshops {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		err = errors.Join(err, recoverWorkshop(ctx, workshop, inventory))
	}
	return err
}

func recoverWorkshop(ctx context.Context, workshop string, inventory Inventory) error {
	if os.Remove(workshop) == nil { // empty
		return nil
	}
	lock := flock.New(filepath.Join(workshop, lockName))
	locked, err := lock.TryLock()
	if err != nil || !locked {
		return lock.Close() // somebody works in it, or that cannot be known; or it is gone
	}
	err = errors.Join(
		bringBack(ctx, filepath.Join(workshop, replacedName), filepath.Dir(workshop), inventory),
		bringBack(ctx, filepath.Join(workshop, draftName), filepath.Dir(workshop), inventory),
	)
	if err != nil {
		return errors.Join(err, lock.Close())
	}
	return removeWorkshop(workshop, lock)
}

// bringBack puts folders that were set aside back into their places, or, where
// these are taken, what is not the program's own into the folders there. A draft
// that was never complete has nothing of the kind.
func bringBack(ctx context.Context, aside, parent string, inventory Inventory) error {
	folders, err := os.ReadDir(aside)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, f := range folders {
		old, target := filepath.Join(aside, f.Name()), filepath.Join(parent, f.Name())
		own, ownErr := ownFiles(ctx, old, inventory)
		_, thereErr := os.Lstat(target)
		switch missing := errors.Is(thereErr, fs.ErrNotExist); {
		case missing && filepath.Base(aside) == replacedName:
			err = errors.Join(err, os.Rename(old, target))
		case !missing && ownErr == nil:
			err = errors.Join(err, rescue(old, target, own))
		}
	}
	return err
}

// escapeGlob writes a path so that a pattern matches it to the letter.
func escapeGlob(path string) string {
	var escaped []rune
	for _, r := range path {
		if r == '*' || r == '?' || r == '[' {
			escaped = append(escaped, '[', r, ']')
			continue
		}
		escaped = append(escaped, r)
	}
	return string(escaped)
}
