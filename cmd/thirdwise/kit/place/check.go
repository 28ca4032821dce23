package place

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Check returns an error where a folder cannot be put into a place: where
// something else stands there, or a folder that the inventory does not let be
// replaced, or the folder that the program was called in.
func Check(target string, inventory Inventory) error {
	const advice = "move it, or choose another output folder with -o"
	if err := checkParent(filepath.Dir(target)); err != nil {
		return err
	}
	entry, err := os.Lstat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case entry.Mode()&fs.ModeSymlink != 0:
		if _, err := os.Stat(target); err != nil {
			return fmt.Errorf("%s is a link to something that does not exist; %s", target, advice)
		}
		return fmt.Errorf("%s is a link; %s", target, advice)
	case !entry.IsDir():
		return fmt.Errorf("%s exists and is not a folder; %s", target, advice)
	case holdsWorkingFolder(entry):
		return fmt.Errorf("%s is to be replaced, and it is the folder that you are in; go to another folder first", target)
	}
	within, err := os.ReadDir(target)
	if err != nil || len(within) == 0 {
		return err
	}
	if _, err := inventory(target); err != nil {
		return fmt.Errorf("%s %w; %s", target, err, advice)
	}
	return nil
}

// checkParent returns an error where a folder cannot hold others: where it is
// none, or a link that leads nowhere.
func checkParent(parent string) error {
	if entry, err := os.Stat(parent); err == nil && !entry.IsDir() {
		return fmt.Errorf("the output folder %s is not a folder", parent)
	}
	entry, err := os.Lstat(parent)
	if err != nil || entry.Mode()&fs.ModeSymlink == 0 {
		return nil
	}
	if _, err := os.Stat(parent); err != nil {
		return fmt.Errorf("the output folder %s is a link to something that does not exist", parent)
	}
	return nil
}

// holdsWorkingFolder reports whether the program was called in a folder, or in
// one within it.
func holdsWorkingFolder(folder fs.FileInfo) bool {
	here, err := os.Getwd()
	if err != nil {
		return false
	}
	for {
		if entry, err := os.Stat(here); err == nil && os.SameFile(entry, folder) {
			return true
		}
		above := filepath.Dir(here)
		if above == here {
			return false
		}
		here = above
	}
}
