package course

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"thirdwise/cmd/thirdwise/kit"
)

// A Teller tells how the making of kits goes: on a terminal, in a line drawn over
// itself; elsewhere in a line a file, or an object a kit, once the kit is there.
type Teller struct {
	Out, Complaints io.Writer // what is told, and what goes wrong
	Terminal        bool      // whether Out is one
	JSON            bool      // an object a kit
	Kits            []Kit     // that are to be made, in their order

	line            rewritten
	begun           time.Time
	made, unchanged int
	failed          []string   // what was not made
	mistakes        int        // of exercises of which nothing was made
	first           []kit.File // of the first kit
	firstFolder     string
}

// A Kit is what is told of one before it is made.
type Kit struct{ Folder, Exercise, Key string }

// Made is what became of a kit.
type Made struct {
	Files     []kit.File
	Unchanged bool  // it was there already
	Leftover  error // of what it replaced, which could not be cleared up
	Err       error // why it was not made
}

// A rewritten is a line on a terminal that is written over and over.
type rewritten struct {
	mutex sync.Mutex
	width int
}

// write writes over what stands in the line. Spaces, not a control sequence, cover
// what was longer: consoles differ.
func (l *rewritten) write(w io.Writer, text string) {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	width := utf8.RuneCountInString(text)
	fmt.Fprintf(w, "\r%s%s\r%s", text, strings.Repeat(" ", max(0, l.width-width)), text)
	l.width = width
}

// live reports whether progress is shown as it goes.
func (t *Teller) live() bool { return t.Terminal && !t.JSON }

// Progress returns what tells of the files of a kit as they are written: only where
// it is the only kit.
func (t *Teller) Progress(i int) func(complete, all int) {
	if !t.live() || len(t.Kits) > 1 {
		return func(int, int) {}
	}
	return func(complete, all int) {
		t.line.write(t.Out, fmt.Sprintf("%s: %d of %d files", t.Kits[i].Folder, complete, all))
	}
}

// Mistaken takes note of an exercise with mistakes.
func (t *Teller) Mistaken(path string, n int) {
	t.mistakes += n
	t.failed = append(t.failed, fmt.Sprintf("%s (%s)", path, Counted(n, "mistake", "mistakes")))
	if t.JSON {
		t.print(record{Exercise: path, State: stateFailed, Error: Counted(n, "mistake", "mistakes")})
	}
}

// Missing takes note of a kit that is not made, of an exercise of which others are.
func (t *Teller) Missing(k Kit, why string) {
	t.failed = append(t.failed, k.Folder)
	if t.JSON {
		t.print(record{Kit: k.Folder, Exercise: k.Exercise, Key: k.Key, State: stateFailed, Error: why})
	}
}

// A record is what programs are told of a kit, or of an exercise of which there is
// none.
type record struct {
	Kit      string `json:"kit,omitempty"` // its folder
	Exercise string `json:"exercise"`
	Key      string `json:"key,omitempty"`
	State    string `json:"state"` // one of those below
	Error    string `json:"error,omitempty"`
	Files    int    `json:"files,omitempty"`
	Bytes    int64  `json:"bytes,omitempty"`
}

// What has become of a kit, for programs.
const (
	stateMade      = "made"
	stateUnchanged = "unchanged"
	stateFailed    = "failed"
)

func (t *Teller) print(r record) {
	encoder := json.NewEncoder(t.Out)
	encoder.SetEscapeHTML(false)
	encoder.Encode(r) // an error shows in the end
}

// Tell tells what became of a kit. The kits come in order.
func (t *Teller) Tell(i int, m Made) {
	if t.begun.IsZero() {
		t.begun = time.Now()
	}
	k := t.Kits[i]
	r := record{Kit: k.Folder, Exercise: k.Exercise, Key: k.Key, State: stateMade, Files: len(m.Files)}
	for _, f := range m.Files {
		r.Bytes += f.Bytes
	}
	switch {
	case errors.Is(m.Err, context.Canceled):
		return // the end of all
	case m.Err != nil:
		t.clear()
		fmt.Fprintf(t.Complaints, "thirdwise: %v\n", m.Err)
		t.failed = append(t.failed, k.Folder)
		r.State, r.Error = stateFailed, m.Err.Error()
	case m.Unchanged:
		t.unchanged++
		r.State = stateUnchanged
	default:
		t.made++
	}
	if m.Leftover != nil {
		t.clear()
		fmt.Fprintf(t.Complaints, "thirdwise: warning: the kit %s is in its place, but what it replaced could not be cleared up: %v\n", k.Folder, m.Leftover)
	}
	if t.first == nil && m.Err == nil {
		t.first, t.firstFolder = m.Files, k.Folder
	}
	t.list(i, m.Files, r)
}

// list tells of a kit that is there.
func (t *Teller) list(i int, files []kit.File, r record) {
	switch {
	case t.JSON:
		t.print(r)
	case !t.Terminal:
		for _, f := range files {
			fmt.Fprintln(t.Out, filepath.Join(r.Kit, f.Name))
		}
	case len(t.Kits) > 1:
		told := i + 1
		left := time.Since(t.begun).Seconds() / float64(told) * float64(len(t.Kits)-told)
		t.line.write(t.Out, fmt.Sprintf("%d of %s, about %.0f s left", told, Counted(len(t.Kits), "kit", "kits"), left))
	case r.Error == "":
		t.clear()
		what := fmt.Sprintf("%s: %s, %s", r.Kit, Counted(len(files), "file", "files"), kit.Space(r.Bytes))
		if r.State == stateUnchanged {
			what += " (unchanged)"
		}
		fmt.Fprintln(t.Out, what)
	}
}

// clear takes away what was only for the time being.
func (t *Teller) clear() {
	if t.live() {
		t.line.write(t.Out, "")
	}
}

// End sums up. It returns an error where not all was made.
func (t *Teller) End() error {
	t.clear()
	if t.live() {
		t.advise()
	}
	if len(t.Kits) > 1 {
		summary := Counted(t.made, "kit", "kits") + " made"
		if t.unchanged > 0 {
			summary += fmt.Sprintf(", %d unchanged", t.unchanged)
		}
		fmt.Fprintln(t.Complaints, summary)
	}
	switch {
	case len(t.failed) == 0:
		return nil
	case len(t.Kits) == 0 && len(t.failed) == 1 && t.mistakes > 0:
		return errors.New(Counted(t.mistakes, "mistake", "mistakes"))
	}
	return fmt.Errorf("not made: %s", strings.Join(t.failed, ", "))
}

// advise tells what to play and what to print of the first kit.
func (t *Teller) advise() {
	play := slices.IndexFunc(t.first, func(f kit.File) bool { return f.Kind == kit.KindAudio })
	sheet := slices.IndexFunc(t.first, func(f kit.File) bool { return f.Kind == kit.KindSheet })
	if play >= 0 && sheet >= 0 {
		fmt.Fprintf(t.Out, "play %s; print %s\n",
			filepath.Join(t.firstFolder, t.first[play].Name), filepath.Join(t.firstFolder, t.first[sheet].Name))
	}
}

// MadeCount returns how many kits have been made so far.
func (t *Teller) MadeCount() int { return t.made }

// Counted writes a count with its noun.
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
