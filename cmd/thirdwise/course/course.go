// Package course is for work on many exercises at once: which files are meant,
// which share of the work is whose, and how it is done on all cores and told in
// order.
package course

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Files returns the exercises that arguments name: files as they are, of a folder
// all YAML files in it and below it, and of a pattern, where the shell has not
// done so, all that match it; each once. A - stands for standard input.
func Files(args []string) ([]string, error) {
	if name := splitUp(args); name != "" {
		return nil, fmt.Errorf("a name with blanks in it stands in quotation marks: \"%s\"", name)
	}
	var files []string
	for _, arg := range args {
		entry, err := os.Stat(arg)
		switch {
		case err == nil && entry.IsDir():
			within, err := exercisesBelow(arg)
			if err != nil {
				return nil, err
			}
			if len(within) == 0 {
				return nil, fmt.Errorf("%s has no exercises (files that end in .yaml) in it", arg)
			}
			files = append(files, within...)
		case err != nil && strings.ContainsAny(arg, "*?["):
			matches, err := filepath.Glob(arg)
			if err != nil {
				return nil, fmt.Errorf("%s is not a pattern of file names", arg)
			}
			if len(matches) == 0 {
				return nil, fmt.Errorf("no file matches %s", arg)
			}
			files = append(files, matches...)
		default:
			files = append(files, arg)
		}
	}
	return once(files), nil
}

// splitUp returns the name of a file that has blanks in it, for which a shell that was
// not told so has given several; "" where there is none.
func splitUp(args []string) string {
	missing := func(name string) bool {
		_, err := os.Stat(name)
		return err != nil
	}
	for i := range args {
		if !missing(args[i]) {
			continue
		}
		for j := i + 2; j <= len(args); j++ {
			if name := strings.Join(args[i:j], " "); !missing(name) {
				return name
			}
		}
	}
	return ""
}

// once leaves out what is named again.
func once(files []string) []string {
	named := map[string]bool{}
	return slices.DeleteFunc(files, func(file string) bool {
		path, err := filepath.Abs(file)
		again := err == nil && named[path]
		named[path] = true
		return again
	})
}

// exercisesBelow lists the YAML files of a folder and those below it, in the order
// of their paths. What is hidden is passed over. The folder may be a link to one.
func exercisesBelow(folder string) ([]string, error) {
	if entry, err := os.Lstat(folder); err == nil && entry.Mode()&fs.ModeSymlink != 0 {
		folder += string(filepath.Separator) // which leads through the link
	}
	var files []string
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		hidden := path != folder && strings.HasPrefix(e.Name(), ".")
		switch {
		case err != nil:
			return err
		case hidden && e.IsDir():
			return fs.SkipDir
		case !hidden && !e.IsDir() && IsExercise(path):
			files = append(files, path)
		}
		return nil
	})
	slices.Sort(files)
	return files, err
}

// IsExercise reports whether a name is that of an exercise's file.
func IsExercise(name string) bool {
	ending := strings.ToLower(filepath.Ext(name))
	return ending == ".yaml" || ending == ".yml"
}

// A Shard is a share of the work, such that several runs do all of it between
// them. The zero value is all of it.
type Shard struct{ number, of int }

// UnmarshalText sets s to a share such as "3/16", the third of sixteen.
func (s *Shard) UnmarshalText(text []byte) error {
	before, after, _ := strings.Cut(string(text), "/")
	number, err := strconv.Atoi(before)
	of, ofErr := strconv.Atoi(after)
	if err != nil || ofErr != nil || number < 1 || number > of {
		return fmt.Errorf("%q is not a share; write 3/16 for the third of sixteen", text)
	}
	*s = Shard{number, of}
	return nil
}

// Has reports whether a piece of work, counted from 0, belongs to the share.
func (s Shard) Has(piece int) bool { return s.of == 0 || piece%s.of == s.number-1 }

// Most is how many pieces of work are done at once at most, unless there is a reason
// for fewer. Each takes memory.
const Most = 8

// AtOnce returns how many pieces of work are done at once, at most so many: one a core,
// and one more that has work for a core while others wait for the disk.
func AtOnce(most int) int { return min(most, runtime.GOMAXPROCS(0)+1) }

// InOrder calls work with each number below n, for several at once, but at most for so
// many (see [AtOnce]), and then tell with what came of each: in
// order, and never for two at once. It returns early when the context ends.
func InOrder[T any](ctx context.Context, n, most int, work func(i int) T, tell func(i int, done T)) error {
	results := make([]chan T, n)
	for i := range results {
		results[i] = make(chan T, 1)
	}
	ctx, cancel := context.WithCancel(ctx)
	var workers sync.WaitGroup
	defer workers.Wait()
	defer cancel()
	// So many may be begun before they can be told, and no more.
	ahead := make(chan struct{}, 2*most)
	numbers := make(chan int)
	for range min(n, AtOnce(most)) {
		workers.Go(func() {
			for i := range numbers {
				results[i] <- work(i)
			}
		})
	}
	workers.Go(func() {
		defer close(numbers)
		for i := range n {
			select {
			case ahead <- struct{}{}:
			case <-ctx.Done():
				return
			}
			select {
			case numbers <- i:
			case <-ctx.Done():
				return
			}
		}
	})
	for i := range n {
		select {
		case done := <-results[i]:
			tell(i, done)
			<-ahead
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}
