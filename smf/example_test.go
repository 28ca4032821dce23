package smf_test

import (
	"bytes"
	"fmt"

	midifile "gitlab.com/gomidi/midi/v2/smf"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/smf"
)

func ExampleWrite() {
	text := "title: Two Doors\nkey: G major\nchart: '| G | C |'\nline: {density: 0%}\n"
	e, err := exercise.Parse("two-doors.yaml", []byte(text))
	if err != nil {
		fmt.Println(err)
		return
	}
	s, _, err := arrange.Arrange(e)
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if err := smf.Write(&file, s); err != nil {
		fmt.Println(err)
		return
	}

	read, err := midifile.ReadFrom(&file)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range read.Tracks[2] {
		fmt.Println(e.Delta, e.Message)
	}
	// Output:
	// 0 MetaTrackName text: "Guide"
	// 0 ProgramChange channel: 1 program: 24
	// 0 NoteOn channel: 1 key: 59 velocity: 96
	// 0 NoteOn channel: 1 key: 62 velocity: 96
	// 1920 NoteOff channel: 1 key: 59
	// 0 NoteOff channel: 1 key: 62
	// 0 NoteOn channel: 1 key: 60 velocity: 96
	// 0 NoteOn channel: 1 key: 64 velocity: 96
	// 1920 NoteOff channel: 1 key: 60
	// 0 NoteOff channel: 1 key: 64
	// 0 MetaEndOfTrack
}
