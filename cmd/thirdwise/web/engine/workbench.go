//go:build js && workbench

package main

import (
	"encoding/json"
	"hash/crc32"
	"io"
	"runtime/debug"
	"strings"
	"syscall/js"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/web/bench"
	"thirdwise/cmd/thirdwise/web/page"
)

// loose is as tight, while somebody waits for what is arranged: the memory that this
// takes is soon given back.
const loose = 300

// offerMore adds what the workbench asks for beside playing.
func (e *engine) offerMore() {
	b := new(bench.Bench)
	text := func(made string, err error) (any, error) { return made, err }
	e.offer("arrange", func(args []js.Value) (any, error) { // file, text, width, staves, the number of the strip that is shown
		defer debug.SetGCPercent(debug.SetGCPercent(loose))
		made, err := b.Arrange(args[0].String(), args[1].String(), args[2].Float(), args[3].String(), args[4].Int())
		return asJSON(made, err)
	})
	e.offer("played", func(args []js.Value) (any, error) { return asJSON(b.Played(args[0].Float())) }) // gain
	e.offer("board", func([]js.Value) (any, error) { return text(b.Board()) })
	e.offer("tab", func([]js.Value) (any, error) { return text(b.Tab()) })
	e.offer("neck", func([]js.Value) (any, error) { return text(b.Neck()) })
	e.offer("printed", func([]js.Value) (any, error) { return text(b.Printed()) })
	e.offer("bar-of-line", func(args []js.Value) (any, error) { return asJSON(b.Bar(args[0].Int())) })
	e.offer("ways", func(args []js.Value) (any, error) { return asJSON(b.Ways(args[0].Int())) })
	e.offer("starter", func([]js.Value) (any, error) { return b.Starter(), nil })
	e.offer("move", func(args []js.Value) (any, error) { return text(b.Move(args[0].String(), args[1].String())) }) // text, key
	e.offer("kit", func(args []js.Value) (any, error) {                                                             // file, the practice page, its engine, mixes, a receiver
		engine := make([]byte, args[2].Length())
		js.CopyBytesToGo(engine, args[2])
		shell := page.NewShell([]byte(args[1].String()), engine)
		var mixes []score.Mix
		for name := range strings.SplitSeq(args[3].String(), ",") {
			var mix score.Mix
			if err := mix.UnmarshalText([]byte(name)); err != nil {
				return nil, err
			}
			mixes = append(mixes, mix)
		}
		receiver := args[4]
		progress := func(done, all int) { receiver.Call("progress", done, all) }
		return nil, b.Kit(args[0].String(), shell, mixes, receiving{receiver}, progress)
	})
}

// asJSON hands a value over in the form that costs least. It goes to a script, so
// what would be markup in a page stands as it is.
func asJSON[T any](made T, err error) (any, error) {
	if err != nil {
		return nil, err
	}
	var text strings.Builder
	encoder := json.NewEncoder(&text)
	encoder.SetEscapeHTML(false)
	err = encoder.Encode(made)
	return text.String(), err
}

// A receiving hands the files of a kit over as they are made, so that they need
// not all be in the engine's memory.
type receiving struct{ receiver js.Value }

// Create begins a file.
func (r receiving) Create(name string) (io.WriteCloser, error) {
	return &file{receiver: r.receiver, name: name}, nil
}

// A file gathers some bytes before it hands them over.
type file struct {
	receiver js.Value
	name     string
	buffer   []byte
	sum      uint32
}

const handOver = 1 << 20 // bytes

// Write writes to the file.
func (f *file) Write(p []byte) (int, error) {
	f.sum = crc32.Update(f.sum, crc32.IEEETable, p)
	f.buffer = append(f.buffer, p...)
	if len(f.buffer) >= handOver {
		f.flush()
	}
	return len(p), nil
}

func (f *file) flush() {
	bytes := js.Global().Get("Uint8Array").New(len(f.buffer))
	js.CopyBytesToJS(bytes, f.buffer)
	f.receiver.Call("bytes", f.name, bytes)
	f.buffer = f.buffer[:0]
}

// Close completes the file.
func (f *file) Close() error {
	f.flush()
	f.receiver.Call("complete", f.name, int64(f.sum))
	return nil
}
