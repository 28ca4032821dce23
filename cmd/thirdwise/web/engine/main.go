//go:build js

// The engine is thirdwise in the browser: a worker of a page runs it. It sets a
// global object, thirdwise, whose methods the worker calls; js/worker.js says
// how a page talks with the worker.
//
// Built as it stands it plays a score, which is all that the practice page
// needs. With the build tag workbench it also reads and arranges exercises, lays
// out sheets and makes kits.
package main

import (
	"encoding/json"
	"fmt"
	"runtime/debug"
	"syscall/js"
	"unsafe"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/web/player"
)

func main() {
	e := &engine{bars: map[int]*player.Bar{}, methods: map[string]any{}}
	e.offer("open", e.open)
	e.offer("bar", e.bar)
	e.offer("read", e.read)
	e.offer("drop", e.drop)
	e.offerMore()
	js.Global().Set("thirdwise", e.methods)
	select {}
}

// An engine is what the worker's calls share.
type engine struct {
	methods map[string]any
	player  *player.Player
	bars    map[int]*player.Bar // that are being made, by number
	last    int                 // number of a bar
}

// offer makes a method for the worker. What goes wrong is a string in the field
// "error" of what it returns, so that no fault ends the engine.
func (e *engine) offer(name string, method func(args []js.Value) (any, error)) {
	e.methods[name] = js.FuncOf(func(_ js.Value, args []js.Value) (result any) {
		defer func() {
			if fault := recover(); fault != nil {
				result = map[string]any{"error": fmt.Sprint(fault)}
			}
		}()
		made, err := method(args)
		if err != nil {
			return map[string]any{"error": err.Error()}
		}
		return made
	})
}

// open takes a score as JSON, a rate in samples a second and a gain in dB: what
// is played from now on.
func (e *engine) open(args []js.Value) (any, error) {
	var s score.Score
	if err := json.Unmarshal([]byte(args[0].String()), &s); err != nil {
		return nil, err
	}
	e.play(&s, args[1].Int(), args[2].Float())
	return nil, nil
}

// tight is by how many per cent the memory may grow before what is not used is given
// back: notes are long and without pointers, so that looking through them costs
// little, and the memory of a page never shrinks.
const tight = 25

func (e *engine) play(s *score.Score, rate int, gain float64) {
	debug.SetGCPercent(tight)
	if e.player != nil {
		e.player = e.player.Next(s, rate, gain)
		return
	}
	e.player = player.New(s, rate, gain)
}

// bar takes a bar's index, a tempo, whether the chart ends there, and the numbers
// of the parts. It returns the number by which the bar is read.
func (e *engine) bar(args []js.Value) (any, error) {
	if e.player == nil {
		return nil, fmt.Errorf("no score is open")
	}
	parts := make([]score.Part, args[3].Length())
	for i := range parts {
		parts[i] = score.Part(args[3].Index(i).Int())
	}
	b, err := e.player.Bar(args[0].Int(), args[1].Int(), args[2].Bool(), parts)
	if err != nil {
		return nil, err
	}
	e.last++
	e.bars[e.last] = b
	return e.last, nil
}

// read takes a bar's number, how many frames are wanted, and whether they are heard. It
// returns a list of Float32Arrays, one a part, left and then right, null of a part that
// has ended; of what is not heard, an empty list. Null is the end of the bar.
func (e *engine) read(args []js.Value) (any, error) {
	number := args[0].Int()
	b := e.bars[number]
	if b == nil {
		return nil, nil
	}
	blocks := b.Read(args[1].Int())
	if blocks == nil {
		delete(e.bars, number)
		return nil, nil
	}
	list := make([]any, len(blocks))
	if !args[2].Bool() {
		return list[:0], nil
	}
	for i, block := range blocks {
		if block != nil {
			list[i] = samples(block)
		}
	}
	return list, nil
}

// drop takes the number of a bar that is not wanted any more.
func (e *engine) drop(args []js.Value) (any, error) {
	delete(e.bars, args[0].Int())
	return nil, nil
}

// samples copies a block out of the engine's memory.
func samples(block []float32) js.Value {
	bytes := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(block))), 4*len(block))
	array := js.Global().Get("Uint8Array").New(len(bytes))
	js.CopyBytesToJS(array, bytes)
	return js.Global().Get("Float32Array").New(array.Get("buffer"))
}
