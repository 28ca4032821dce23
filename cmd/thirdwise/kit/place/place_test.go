package place

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/gofrs/flock"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listName is the file in which the folders of these tests list what is their own.
const listName = "list"

// ofList reads such a list: a name and a hash on each line.
func ofList(folder string) (map[string]string, error) {
	text, err := os.ReadFile(filepath.Join(folder, listName))
	if err != nil {
		return nil, errors.New("has no list")
	}
	own := map[string]string{listName: ""}
	for line := range strings.Lines(string(text)) {
		name, sum, _ := strings.Cut(strings.TrimSpace(line), " ")
		own[name] = sum
	}
	return own, nil
}

// put writes files into a folder, and a list of them.
func put(t *testing.T, folder string, files map[string]string) {
	t.Helper()
	list := ""
	for name, text := range files {
		require.NoError(t, os.MkdirAll(folder, 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666))
		sum := sha256.Sum256([]byte(text))
		list += name + " " + hex.EncodeToString(sum[:]) + "\n"
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, listName), []byte(list), 0o666))
}

// tree returns all files below a folder with what they hold, and folders that are
// empty; of the list it tells only that it is there.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	found := map[string]string{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, e os.DirEntry, err error) error {
		if err != nil || path == folder {
			return err
		}
		name, err := filepath.Rel(folder, path)
		require.NoError(t, err)
		switch within, _ := os.ReadDir(path); {
		case e.Name() == listName:
			found[name] = "listed"
		case e.IsDir() && len(within) == 0:
			found[name] = "empty"
		case !e.IsDir():
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			found[name] = string(text)
		}
		return nil
	}))
	return found
}

// ways are the two ways in which a folder is put into its place.
var ways = map[string]*Drafts{"exchange": {}, "plain renames": {PlainRenames: true}}

// replaced puts a new folder, with files, where an old one is.
func replaced(t *testing.T, drafts *Drafts, target string, files map[string]string) {
	t.Helper()
	d, err := drafts.Begin(target, ofList)
	require.NoError(t, err)
	put(t, d.folder(), files)
	leftover, err := d.Publish(t.Context())
	require.NoError(t, err)
	require.NoError(t, leftover)
	require.NoError(t, d.Discard())
}

func TestAFolderIsReplacedWholeAndOnlyWhenItIsComplete(t *testing.T) {
	for way, drafts := range ways {
		t.Run(way, func(t *testing.T) {
			parent := t.TempDir()
			target := filepath.Join(parent, "kit")
			put(t, target, map[string]string{"old.wav": "old"})
			d, err := drafts.Begin(target, ofList)
			require.NoError(t, err)
			file, err := d.Create("new.wav")
			require.NoError(t, err)
			_, err = file.Write([]byte("new"))
			require.NoError(t, errors.Join(err, file.Close()))
			assert.Equal(t, map[string]string{"old.wav": "old", listName: "listed"}, tree(t, target))
			leftover, err := d.Publish(t.Context())
			require.NoError(t, errors.Join(err, leftover, d.Discard()))
			assert.Equal(t, map[string]string{"kit/new.wav": "new"}, tree(t, parent), "and nothing beside it")
		})
	}
}

func TestWhatIsNotOfTheOldFolderGoesOverIntoTheNew(t *testing.T) {
	for way, drafts := range ways {
		t.Run(way, func(t *testing.T) {
			parent := t.TempDir()
			target := filepath.Join(parent, "kit")
			put(t, target, map[string]string{"one.wav": "one", "tab.txt": "tab", "sheet.pdf": "sheet"})
			for name, text := range map[string]string{
				"notes.txt": "mine", "tab.txt": "tab, with my fingering", "two.wav": "my own recording", "takes/first/solo.wav": "solo",
			} {
				require.NoError(t, os.MkdirAll(filepath.Join(target, filepath.Dir(name)), 0o777))
				require.NoError(t, os.WriteFile(filepath.Join(target, name), []byte(text), 0o666))
			}
			require.NoError(t, os.Mkdir(filepath.Join(target, "photos"), 0o700))
			require.NoError(t, os.Symlink("notes.txt", filepath.Join(target, "link")))
			before, err := os.Stat(filepath.Join(target, "notes.txt"))
			require.NoError(t, err)
			want := map[string]string{
				listName: "listed", "two.wav": "two", "tab.txt": "new tab",
				"tab (kept).txt": "tab, with my fingering", "two (kept).wav": "my own recording",
				"notes.txt": "mine", "takes/first/solo.wav": "solo", "photos": "empty", "link": "mine",
			}
			for range 3 { // and over again
				replaced(t, drafts, target, map[string]string{"two.wav": "two", "tab.txt": "new tab"})
				assert.Equal(t, want, tree(t, target))
			}
			after, err := os.Stat(filepath.Join(target, "notes.txt"))
			require.NoError(t, err)
			assert.True(t, os.SameFile(before, after), "not a copy, but the same file")
			photos, err := os.Stat(filepath.Join(target, "photos"))
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o700), photos.Mode().Perm(), "what is nobody else's stays so")
			entries, err := os.ReadDir(parent)
			require.NoError(t, err)
			assert.Len(t, entries, 1, "nothing beside it")
		})
	}
}

// A file that comes into the old folder after the new one has taken over what was
// there is not lost either.
func TestWhatComesAtTheLastMomentIsRescued(t *testing.T) {
	parent := t.TempDir()
	old, fresh := filepath.Join(parent, "old"), filepath.Join(parent, "fresh")
	put(t, old, map[string]string{"one.wav": "one"})
	put(t, fresh, map[string]string{"one.wav": "anew", "late.txt": "the kit's"})
	require.NoError(t, os.WriteFile(filepath.Join(old, "late.txt"), []byte("late"), 0o666))
	require.NoError(t, rescue(old, fresh, map[string]bool{listName: true, "one.wav": true}))
	assert.Equal(t, map[string]string{
		listName: "listed", "one.wav": "anew", "late.txt": "the kit's", "late (kept).txt": "late",
	}, tree(t, fresh))
	assert.NoDirExists(t, old)
}

// What cannot be rescued stays in the workshop until it can, here because its name has no
// room for more.
func TestWhatCannotBeRescuedIsNotRemoved(t *testing.T) {
	const longest = 255 // bytes of a name, on most file systems
	parent, name := t.TempDir(), strings.Repeat("a", longest)
	target := filepath.Join(parent, "kit")
	put(t, target, map[string]string{"old.wav": "old"})
	d, err := new(Drafts).Begin(target, ofList)
	require.NoError(t, err)
	put(t, d.folder(), map[string]string{name: "the kit's"})
	old, err := d.replace()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(old, name), []byte("late"), 0o666))
	require.Error(t, d.clear(old, map[string]bool{listName: true, "old.wav": true}))
	require.NoError(t, d.Discard())
	assert.Equal(t, map[string]string{name: "late", "old.wav": "old", listName: "listed"}, tree(t, old))
	require.NoError(t, os.Remove(filepath.Join(target, name)))
	require.NoError(t, new(Drafts).Recover(t.Context(), parent, ofList))
	assert.Equal(t, map[string]string{"kit/" + name: "late", "kit/" + listName: "listed"}, tree(t, parent))
}

// A recording may be larger than the memory, and a drive may know no links, so that what
// went over is a copy.
func TestWhatIsComparedIsNotReadAsAWhole(t *testing.T) {
	const size = 4 << 20
	parent := t.TempDir()
	old, fresh := filepath.Join(parent, "old"), filepath.Join(parent, "fresh")
	for _, folder := range []string{old, fresh} {
		put(t, folder, map[string]string{"one.wav": "one", "take.wav": ""})
		require.NoError(t, os.Truncate(filepath.Join(folder, "take.wav"), size))
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	require.NoError(t, rescue(old, fresh, map[string]bool{listName: true, "one.wav": true}))
	runtime.ReadMemStats(&after)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(size/8))
	assert.ElementsMatch(t, []string{listName, "one.wav", "take.wav"}, slices.Collect(maps.Keys(tree(t, fresh))), "it is there once")
	assert.NoDirExists(t, old)
}

func TestAFailedReplacementKeepsWhatWasThere(t *testing.T) {
	for way, drafts := range ways {
		t.Run(way, func(t *testing.T) {
			parent := t.TempDir()
			target := filepath.Join(parent, "kit")
			put(t, target, map[string]string{"old.wav": "old"})
			d, err := drafts.Begin(target, ofList)
			require.NoError(t, err)
			require.NoError(t, os.RemoveAll(d.folder())) // so that it cannot be put in place
			_, err = d.Publish(t.Context())
			assert.Error(t, err)
			require.NoError(t, d.Discard())
			assert.Equal(t, map[string]string{"kit/old.wav": "old", "kit/" + listName: "listed"}, tree(t, parent))
		})
	}
}

func TestAnEndedContextKeepsFromPublishing(t *testing.T) {
	parent := t.TempDir()
	d, err := new(Drafts).Begin(filepath.Join(parent, "kit"), ofList)
	require.NoError(t, err)
	put(t, d.folder(), map[string]string{"new.wav": "new"})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = d.Publish(ctx)
	assert.ErrorIs(t, err, context.Canceled)
	require.NoError(t, d.Discard())
	assert.Empty(t, tree(t, parent))
}

func TestADiscardedDraftTakesTheFoldersMadeForItAlong(t *testing.T) {
	parent := t.TempDir()
	d, err := new(Drafts).Begin(filepath.Join(parent, "a", "b", "kit"), ofList)
	require.NoError(t, err)
	require.NoError(t, d.Discard())
	assert.Empty(t, tree(t, parent))
}

func TestAbandonedDraftsLeaveNothingAndTakeNothing(t *testing.T) {
	parent := t.TempDir()
	var drafts Drafts
	d, err := drafts.Begin(filepath.Join(parent, "a", "kit"), ofList)
	require.NoError(t, err)
	put(t, d.folder(), map[string]string{"new.wav": "new"})
	drafts.Abandon()
	assert.Empty(t, tree(t, parent))
	_, err = d.Create("another.wav")
	assert.Error(t, err)
	_, err = d.Publish(t.Context())
	assert.Error(t, err)
	_, err = drafts.Begin(filepath.Join(parent, "b"), ofList)
	assert.Error(t, err)
	assert.Empty(t, tree(t, parent))
}

// A program that ends as a draft is being discarded does not leave half of it behind.
func TestAbandonWaitsForDraftsThatAreBeingDiscarded(t *testing.T) {
	parent := t.TempDir()
	var drafts Drafts
	d, err := drafts.Begin(filepath.Join(parent, "kit"), ofList)
	require.NoError(t, err)
	const files = 1000
	for i := range files {
		require.NoError(t, os.WriteFile(filepath.Join(d.folder(), fmt.Sprint(i)), nil, 0o666))
	}
	discarded := make(chan error, 1)
	go func() { discarded <- d.Discard() }()
	for there := files; there == files; {
		list, err := os.ReadDir(d.folder())
		there = len(list)
		if err != nil {
			break
		}
	}
	drafts.Abandon()
	assert.Empty(t, tree(t, parent))
	require.NoError(t, <-discarded)
}

func TestWhatMustNotBeReplacedIsNamed(t *testing.T) {
	parent := t.TempDir()
	file, photos := filepath.Join(parent, "file"), filepath.Join(parent, "photos")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o666))
	require.NoError(t, os.Mkdir(photos, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(photos, "one.jpg"), []byte("mine"), 0o666))
	link, dangling := filepath.Join(parent, "link"), filepath.Join(parent, "dangling")
	require.NoError(t, os.Symlink(photos, link))
	require.NoError(t, os.Symlink("nowhere", dangling))
	here := filepath.Join(parent, "here")
	put(t, here, map[string]string{"one.wav": "one"})
	require.NoError(t, os.Mkdir(filepath.Join(here, "within"), 0o777))
	before := tree(t, here)
	for target, says := range map[string]string{
		file: "exists and is not a folder", photos: "has no list", link: "is a link", dangling: "is a link",
		filepath.Join(dangling, "kit"): "is a link to something that does not exist",
		filepath.Join(file, "kit"):     "is not a folder",
	} {
		_, err := new(Drafts).Begin(target, ofList)
		require.ErrorContains(t, err, says)
		assert.ErrorContains(t, err, strings.TrimSuffix(target, "/kit"))
	}
	for _, folder := range []string{here, filepath.Join(here, "within")} {
		t.Chdir(folder)
		_, err := new(Drafts).Begin(here, ofList)
		assert.ErrorContains(t, err, "the folder that you are in")
	}
	assert.Equal(t, before, tree(t, here))
}

func TestAnEmptyFolderIsFilled(t *testing.T) {
	for way, drafts := range ways {
		t.Run(way, func(t *testing.T) {
			parent := t.TempDir()
			target := filepath.Join(parent, "kit")
			require.NoError(t, os.Mkdir(target, 0o700))
			replaced(t, drafts, target, map[string]string{"new.wav": "new"})
			assert.Equal(t, map[string]string{"kit/new.wav": "new", "kit/" + listName: "listed"}, tree(t, parent))
			entry, err := os.Stat(target)
			require.NoError(t, err)
			assert.Equal(t, os.FileMode(0o700), entry.Mode().Perm())
		})
	}
}

// What a run that died leaves behind is made here by hand: what a workshop holds
// at each moment of its life.
func TestADeadRunIsClearedUpAfter(t *testing.T) {
	for _, moment := range []struct {
		name        string
		leave       func(t *testing.T, parent, workshop string)
		there, left map[string]string // in the place before, and after
	}{
		{
			"in the midst of the first draft",
			func(t *testing.T, parent, workshop string) {
				require.NoError(t, os.MkdirAll(filepath.Join(workshop, draftName, "kit"), 0o777))
				require.NoError(t, os.WriteFile(filepath.Join(workshop, draftName, "kit", "half.wav"), []byte("ha"), 0o666))
			},
			nil, map[string]string{},
		},
		{
			"before it was locked",
			func(t *testing.T, parent, workshop string) {
				require.NoError(t, os.Remove(filepath.Join(workshop, lockName)))
			},
			nil, map[string]string{},
		},
		{
			"before the exchange",
			func(t *testing.T, parent, workshop string) {
				draft := filepath.Join(workshop, draftName, "kit")
				put(t, draft, map[string]string{"one.wav": "new"})
				require.NoError(t, os.Link(filepath.Join(parent, "kit", "notes.txt"), filepath.Join(draft, "notes.txt")))
			},
			map[string]string{"one.wav": "old"},
			map[string]string{"kit/one.wav": "old", "kit/notes.txt": "mine", "kit/list": "listed"},
		},
		{
			"after the exchange",
			func(t *testing.T, parent, workshop string) {
				old := filepath.Join(workshop, draftName, "kit")
				put(t, old, map[string]string{"one.wav": "old", "gone.wav": "gone"})
				require.NoError(t, os.Link(filepath.Join(parent, "kit", "notes.txt"), filepath.Join(old, "notes.txt")))
				require.NoError(t, os.WriteFile(filepath.Join(old, "late.txt"), []byte("late"), 0o666))
			},
			map[string]string{"one.wav": "new"},
			map[string]string{"kit/one.wav": "new", "kit/notes.txt": "mine", "kit/late.txt": "late", "kit/list": "listed"},
		},
		{
			"between two renames",
			func(t *testing.T, parent, workshop string) {
				require.NoError(t, os.Mkdir(filepath.Join(workshop, replacedName), 0o777))
				require.NoError(t, os.Rename(filepath.Join(parent, "kit"), filepath.Join(workshop, replacedName, "kit")))
				put(t, filepath.Join(workshop, draftName, "kit"), map[string]string{"one.wav": "new"})
			},
			map[string]string{"one.wav": "old"},
			map[string]string{"kit/one.wav": "old", "kit/notes.txt": "mine", "kit/list": "listed"},
		},
	} {
		t.Run(moment.name, func(t *testing.T) {
			parent := t.TempDir()
			if moment.there != nil {
				put(t, filepath.Join(parent, "kit"), moment.there)
				require.NoError(t, os.WriteFile(filepath.Join(parent, "kit", "notes.txt"), []byte("mine"), 0o666))
			}
			workshop := filepath.Join(parent, ".thirdwise-1")
			require.NoError(t, os.Mkdir(workshop, 0o700))
			require.NoError(t, os.WriteFile(filepath.Join(workshop, lockName), nil, 0o600))
			moment.leave(t, parent, workshop)
			require.NoError(t, new(Drafts).Recover(t.Context(), parent, ofList))
			assert.Equal(t, moment.left, tree(t, parent))
		})
	}
}

func TestALivingRunIsLetBe(t *testing.T) {
	parent := t.TempDir()
	d, err := new(Drafts).Begin(filepath.Join(parent, "kit"), ofList)
	require.NoError(t, err)
	require.NoError(t, new(Drafts).Recover(t.Context(), parent, ofList))
	put(t, d.folder(), map[string]string{"new.wav": "new"})
	leftover, err := d.Publish(t.Context())
	require.NoError(t, errors.Join(err, leftover, d.Discard()))
	assert.Equal(t, map[string]string{"kit/new.wav": "new", "kit/list": "listed"}, tree(t, parent))
}

// A run that begins may meet another that clears up, at the worst moment: it finds
// its workshop locked by the other, or gone.
func TestARunThatIsClearedUpAtItsBeginningBeginsAnew(t *testing.T) {
	parent := t.TempDir()
	for range 50 {
		cleared := make(chan error)
		go func() { cleared <- new(Drafts).Recover(context.Background(), parent, ofList) }()
		workshop, lock, err := openWorkshop(parent)
		require.NoError(t, err)
		require.NoError(t, <-cleared)
		other := flock.New(filepath.Join(workshop, lockName))
		locked, err := other.TryLock()
		require.NoError(t, err)
		assert.False(t, locked, "it is there, and locked")
		require.NoError(t, errors.Join(other.Close(), removeWorkshop(workshop, lock)))
	}
}

func TestANameWithPatternsIsTakenToTheLetter(t *testing.T) {
	parent := filepath.Join(t.TempDir(), "[a]*?")
	workshop := filepath.Join(parent, ".thirdwise-1")
	require.NoError(t, os.MkdirAll(filepath.Join(workshop, draftName), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(workshop, lockName), nil, 0o600))
	require.NoError(t, new(Drafts).Recover(t.Context(), parent, ofList))
	assert.Empty(t, tree(t, parent))
}
