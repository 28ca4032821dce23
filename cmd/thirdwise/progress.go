package main

import (
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

// A teller tells how the making of kits goes: on a terminal, in a line drawn over
// itself; elsewhere in a line a file, or an object a kit, once the kit is there.
type teller struct {
	con    *console
	output string // the folder of the kits
	json   bool
	jobs   []job

	line            rewritten
	begun           time.Time
	made, unchanged int
	failed          []string   // what was not made
	mistakes        int        // of exercises of which nothing was made
	first           []kit.File // of the first kit
	firstFolder     string
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
func (t *teller) live() bool { return t.con.terminal && !t.json }

// progress returns what tells of the files of a kit as they are written: only where
// it is the only kit.
func (t *teller) progress(j job) func(complete, all int) {
	if !t.live() || len(t.jobs) > 1 {
		return func(int, int) {}
	}
	return func(complete, all int) {
		t.line.write(t.con.stdout, fmt.Sprintf("%s: %d of %d files", filepath.Join(t.output, j.name), complete, all))
	}
}

// mistaken takes note of an exercise with mistakes.
func (t *teller) mistaken(path string, n int) {
	t.mistakes += n
	t.failed = append(t.failed, fmt.Sprintf("%s (%s)", path, counted(n, "mistake", "mistakes")))
	if t.json {
		t.print(record{Exercise: path, State: "failed", Error: counted(n, "mistake", "mistakes")})
	}
}

// A record is what programs are told of a kit, or of an exercise of which there is
// none.
type record struct {
	Kit      string `json:"kit,omitempty"` // its folder
	Exercise string `json:"exercise"`
	Key      string `json:"key,omitempty"`
	State    string `json:"state"` // made, unchanged or failed
	Error    string `json:"error,omitempty"`
	Files    int    `json:"files,omitempty"`
	Bytes    int64  `json:"bytes,omitempty"`
}

func (t *teller) print(r record) {
	encoder := json.NewEncoder(t.con.stdout)
	encoder.SetEscapeHTML(false)
	encoder.Encode(r) // an error shows in the end
}

// tell tells what was made of a job. The jobs come in order.
func (t *teller) tell(i int, m made) {
	if t.begun.IsZero() {
		t.begun = time.Now()
	}
	j := t.jobs[i]
	folder := filepath.Join(t.output, j.name)
	r := record{Kit: folder, Exercise: j.of.name, Key: j.Key.ASCII(), State: "made", Files: len(m.files)}
	for _, f := range m.files {
		r.Bytes += f.Bytes
	}
	switch {
	case interrupted(m.err):
		return // the end of all
	case m.err != nil:
		t.clear()
		fmt.Fprintf(t.con.stderr, "thirdwise: %v\n", m.err)
		t.failed = append(t.failed, folder)
		r.State, r.Error = "failed", m.err.Error()
	case m.unchanged:
		t.unchanged++
		r.State = "unchanged"
	default:
		t.made++
	}
	if m.leftover != nil {
		t.clear()
		t.con.warn("the kit %s is in its place, but what it replaced could not be cleared up: %v", folder, cause(m.leftover))
	}
	if t.first == nil && m.err == nil {
		t.first, t.firstFolder = m.files, folder
	}
	t.list(i, folder, m.files, r)
}

// list tells of a kit that is there.
func (t *teller) list(i int, folder string, files []kit.File, r record) {
	switch {
	case t.json:
		t.print(r)
	case !t.con.terminal:
		for _, f := range files {
			fmt.Fprintln(t.con.stdout, filepath.Join(folder, f.Name))
		}
	case len(t.jobs) > 1:
		told := i + 1
		left := time.Since(t.begun).Seconds() / float64(told) * float64(len(t.jobs)-told)
		t.line.write(t.con.stdout, fmt.Sprintf("%d of %s, about %.0f s left", told, counted(len(t.jobs), "kit", "kits"), left))
	case r.Error == "":
		t.clear()
		fmt.Fprintf(t.con.stdout, "%s: %s, %s%s\n", folder, counted(len(files), "file", "files"), kit.DiskSpace(r.Bytes),
			map[bool]string{true: " (unchanged)"}[r.State == "unchanged"])
	}
}

// clear takes away what was only for the time being.
func (t *teller) clear() {
	if t.live() {
		t.line.write(t.con.stdout, "")
	}
}

// end sums up. It returns an error where not all was made.
func (t *teller) end() error {
	t.clear()
	if t.live() {
		t.advise()
	}
	if len(t.jobs) > 1 {
		summary := counted(t.made, "kit", "kits") + " made"
		if t.unchanged > 0 {
			summary += fmt.Sprintf(", %d unchanged", t.unchanged)
		}
		fmt.Fprintln(t.con.stderr, summary)
	}
	switch {
	case len(t.failed) == 0:
		return nil
	case len(t.jobs) == 0 && len(t.failed) == 1 && t.mistakes > 0:
		return errors.New(counted(t.mistakes, "mistake", "mistakes"))
	}
	return fmt.Errorf("not made: %s", strings.Join(t.failed, ", "))
}

// advise tells what to play and what to print of the first kit.
func (t *teller) advise() {
	play := slices.IndexFunc(t.first, func(f kit.File) bool { return f.Kind == kit.KindAudio })
	sheet := slices.IndexFunc(t.first, func(f kit.File) bool { return f.Kind == kit.KindSheet })
	if play >= 0 && sheet >= 0 {
		fmt.Fprintf(t.con.stdout, "play %s; print %s\n",
			filepath.Join(t.firstFolder, t.first[play].Name), filepath.Join(t.firstFolder, t.first[sheet].Name))
	}
}
