package place

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"github.com/gofrs/flock"
)

// An Inventory tells which files of a folder the program has made: their SHA-256
// in lower-case hexadecimal by name, "" for one that is the program's whatever it
// holds. The error says why the folder must not be replaced.
type Inventory func(folder string) (map[string]string, error)

// Drafts are the drafts of one run of the program. The zero value has none.
type Drafts struct {
	// PlainRenames keeps from exchanging folders in one step, as on systems that
	// cannot.
	PlainRenames bool

	mutex     sync.Mutex
	active    map[*Draft]bool
	abandoned bool
}

// A Draft is a folder in the making.
type Draft struct {
	drafts    *Drafts
	target    string // the folder to become
	inventory Inventory
	workshop  string
	lock      *flock.Flock
	made      []string // folders that had to be made for the target, outermost first

	mutex sync.Mutex // held while the folder is put into its place, or the draft is discarded
	gone  bool       // the workshop is no longer there
}

// errAbandoned is the error of work on a draft that is no longer there.
var errAbandoned = errors.New("interrupted")

// Begin begins the draft of a folder, whose place must be fit for it; see [Check].
// The draft must be discarded in the end, whatever comes of it.
func (all *Drafts) Begin(target string, inventory Inventory) (_ *Draft, err error) {
	d := &Draft{drafts: all, target: target, inventory: inventory}
	if err := Check(target, inventory); err != nil {
		return nil, err
	}
	all.mutex.Lock()
	defer all.mutex.Unlock()
	if all.abandoned {
		return nil, errAbandoned
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, d.remove())
		}
	}()
	parent := filepath.Dir(target)
	if d.made, err = makeFolders(parent); err != nil {
		return nil, err
	}
	if d.workshop, d.lock, err = openWorkshop(parent); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(d.folder(), 0o777); err != nil {
		return nil, err
	}
	if all.active == nil {
		all.active = map[*Draft]bool{}
	}
	all.active[d] = true
	return d, nil
}

// Abandon discards every draft of the run, and keeps it from beginning another.
// It is for a program that is about to end in the midst of its work.
func (all *Drafts) Abandon() {
	all.mutex.Lock()
	all.abandoned = true
	var active []*Draft
	for d := range all.active {
		active = append(active, d)
	}
	all.mutex.Unlock()
	for _, d := range active {
		d.Discard() // what it fails to remove, the next run does
	}
}

// folder is where the draft's files are written.
func (d *Draft) folder() string { return filepath.Join(d.workshop, draftName, filepath.Base(d.target)) }

// Create creates a file of the folder. What it returns is an [os.File].
func (d *Draft) Create(name string) (io.WriteCloser, error) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if d.gone {
		return nil, errAbandoned
	}
	file, err := os.OpenFile(filepath.Join(d.folder(), name), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, err
	}
	return file, nil
}

// Publish makes the draft the folder, and carries over what else is in its place.
// Where that fails, or the context ends, all stays as it was. What is left over of
// the folder before and could not be removed is no error of publishing.
func (d *Draft) Publish(ctx context.Context) (leftover, err error) {
	if err := Check(d.target, d.inventory); err != nil {
		return nil, err
	}
	own, err := ownFiles(ctx, d.target, d.inventory)
	if err != nil {
		return nil, err
	}
	if err := carryOver(ctx, d.target, d.folder(), own); err != nil {
		return nil, fmt.Errorf("%s has other things in it that cannot be kept: %w", d.target, err)
	}
	d.mutex.Lock()
	defer d.mutex.Unlock()
	switch {
	case d.gone:
		return nil, errAbandoned
	case ctx.Err() != nil:
		return nil, ctx.Err()
	}
	old, err := d.replace()
	if err != nil || old == "" {
		return nil, err
	}
	return d.clear(old, own), nil
}

// clear empties what was replaced; see [rescue]. Where that fails the workshop stays, no
// longer locked, and the next run tries again: what could not go over into the new folder
// must not be removed with the old one.
func (d *Draft) clear(old string, own map[string]bool) error {
	err := rescue(old, d.target, own)
	if err != nil {
		d.gone = true
		err = errors.Join(err, d.lock.Close())
	}
	return err
}

// replace puts the draft in its place, and returns where what stood there is now;
// "" where nothing did.
func (d *Draft) replace() (old string, err error) {
	entry, err := os.Lstat(d.target)
	if errors.Is(err, fs.ErrNotExist) {
		return "", os.Rename(d.folder(), d.target)
	}
	if err != nil {
		return "", err
	}
	if err := permit(d.folder(), entry.Mode().Perm()); err != nil {
		return "", err
	}
	if !d.drafts.PlainRenames && exchange(d.folder(), d.target) == nil {
		return d.folder(), nil
	}
	old = filepath.Join(d.workshop, replacedName, filepath.Base(d.target))
	if err := os.MkdirAll(filepath.Dir(old), 0o777); err != nil {
		return "", err
	}
	if err := os.Rename(d.target, old); err != nil {
		return "", err
	}
	if err := os.Rename(d.folder(), d.target); err != nil {
		return "", errors.Join(err, os.Rename(old, d.target))
	}
	return old, nil
}

// Discard removes what is left of the draft: all of it and the folders made for
// it, or, once it is published, the workshop.
func (d *Draft) Discard() error {
	err := d.remove()
	d.drafts.mutex.Lock() // only now, so that Abandon waits for the removal
	defer d.drafts.mutex.Unlock()
	delete(d.drafts.active, d)
	return err
}

func (d *Draft) remove() (err error) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if d.gone {
		return nil
	}
	d.gone = true
	if d.workshop != "" {
		err = removeWorkshop(d.workshop, d.lock)
	}
	for i := len(d.made) - 1; i >= 0; i-- {
		os.Remove(d.made[i]) // fails, rightly, where there is something in it
	}
	return err
}

// makeFolders makes a folder and those above it that are missing. It returns
// the ones it made, outermost first.
func makeFolders(path string) (made []string, err error) {
	for missing := path; missing != filepath.Dir(missing); missing = filepath.Dir(missing) { // up to the drive, which may be missing too
		if _, err := os.Stat(missing); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		made = append([]string{missing}, made...)
	}
	return made, os.MkdirAll(path, 0o777)
}
