package smf

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"

	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"
)

// A track gathers what a track chunk will hold, in absolute ticks and in any
// order.
type track struct {
	events  []event
	notes   []note
	channel uint8 // of the notes
	end     int   // tick of the end of the track, unless a note ends later
}

// An event is a message at a tick.
type event struct {
	tick    int
	message midifile.Message
}

// A note sounds a key from one tick to another.
type note struct {
	start, end    int
	key, velocity int
}

// add adds a message. Messages at one tick keep the order in which they come.
func (t *track) add(tick int, m midifile.Message) {
	t.events = append(t.events, event{tick, m})
}

// write writes a file of format 1. It is put together in memory first, because
// the library's writer passes over a failure to write a track.
func write(w io.Writer, division int, tracks []*track) error {
	file := midifile.NewSMF1()
	file.TimeFormat = midifile.MetricTicks(division)
	for i, t := range tracks {
		chunk, err := t.chunk()
		if err != nil {
			return fmt.Errorf("track %d: %w", i+1, err)
		}
		file.Tracks = append(file.Tracks, chunk)
	}
	var buf bytes.Buffer
	if _, err := file.WriteTo(&buf); err != nil {
		return err
	}
	_, err := w.Write(buf.Bytes())
	return err
}

// chunk puts everything in order, each message behind the one before it by a
// delta. At one tick keys are let go before others are struck, and the track's
// own messages stand between, so that a program is set before its first note.
func (t *track) chunk() (midifile.Track, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	notes := parted(t.notes)
	var events []event
	for _, n := range notes {
		events = append(events, event{n.end, midifile.Message(midi.NoteOff(t.channel, uint8(n.key)))})
	}
	events = append(events, t.events...)
	for _, n := range notes {
		events = append(events, event{n.start, midifile.Message(midi.NoteOn(t.channel, uint8(n.key), uint8(n.velocity)))})
	}
	slices.SortStableFunc(events, func(a, b event) int { return cmp.Compare(a.tick, b.tick) })

	var chunk midifile.Track
	now := 0
	for _, e := range events {
		chunk = append(chunk, midifile.Event{Delta: uint32(e.tick - now), Message: e.message})
		now = e.tick
	}
	chunk.Close(uint32(max(t.end-now, 0)))
	return chunk, nil
}

// check returns an error for what a Standard MIDI File cannot say.
func (t *track) check() error {
	for _, e := range t.events {
		if e.tick < 0 {
			return fmt.Errorf("%s at tick %d: ticks begin at 0", e.message, e.tick)
		}
	}
	for _, n := range t.notes {
		switch {
		case n.start < 0:
			return fmt.Errorf("a note at tick %d: ticks begin at 0", n.start)
		case n.end <= n.start:
			return fmt.Errorf("the note at tick %d has length %d: expected 1 tick or more", n.start, n.end-n.start)
		case n.key < 0 || n.key > 127:
			return fmt.Errorf("the note at tick %d has key %d: MIDI keys go from 0 to 127", n.start, n.key)
		case n.velocity < 1 || n.velocity > 127:
			return fmt.Errorf("the note at tick %d has velocity %d: expected 1 to 127", n.start, n.velocity)
		}
	}
	return nil
}

// parted returns the notes in the order of their starts, and at one start from
// the lowest key up, with those that sound one key at the same time parted as
// the package comment tells.
func parted(notes []note) []note {
	sorted := slices.Clone(notes)
	slices.SortStableFunc(sorted, func(a, b note) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(a.key, b.key))
	})
	out := sorted[:0]
	last := map[int]int{} // for each key, the index of its latest note in out
	for _, n := range sorted {
		if at, sounds := last[n.key]; sounds {
			before := &out[at]
			if before.start == n.start {
				before.end = max(before.end, n.end)
				before.velocity = max(before.velocity, n.velocity)
				continue
			}
			n.end = max(n.end, before.end)
			before.end = min(before.end, n.start)
		}
		last[n.key] = len(out)
		out = append(out, n)
	}
	return out
}
