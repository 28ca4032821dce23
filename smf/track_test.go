package smf

import (
	"bytes"
	"encoding/hex"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"
	"pgregory.net/rapid"
)

// Standard MIDI Files 1.0, the table of variable-length quantities under
// "Conventions"; from memory.
func TestDeltasAreVariableLengthQuantities(t *testing.T) {
	for _, row := range []struct {
		number int
		bytes  string
	}{
		{0x00000000, "00"},
		{0x00000040, "40"},
		{0x0000007F, "7F"},
		{0x00000080, "81 00"},
		{0x00002000, "C0 00"},
		{0x00003FFF, "FF 7F"},
		{0x00004000, "81 80 00"},
		{0x00100000, "C0 80 00"},
		{0x001FFFFF, "FF FF 7F"},
		{0x00200000, "81 80 80 00"},
		{0x08000000, "C0 80 80 00"},
		{0x0FFFFFFF, "FF FF FF 7F"},
	} {
		var got bytes.Buffer
		require.NoError(t, write(&got, 480, []*track{{end: row.number}}))
		quantity := unhex(t, row.bytes)
		assert.Equal(t, append(quantity, 0xFF, 0x2F, 0x00), got.Bytes()[len("MThd")+4+6+len("MTrk")+4:], "%#x", row.number)
	}
}

// Standard MIDI Files 1.0, the worked example at the standard's end, as format
// 1: four bytes of chunk type, four of length, and the events as the example
// lists them, with running status and velocity 0 for a key let go; from memory.
func TestFileOfFormat1IsThatOfTheStandardsExample(t *testing.T) {
	want := unhex(t, `
		4D 54 68 64  00 00 00 06  00 01  00 04  00 60

		4D 54 72 6B  00 00 00 14
		00  FF 58 04  04 02 18 08
		00  FF 51 03  07 A1 20
		83 00  FF 2F 00

		4D 54 72 6B  00 00 00 10
		00  C0 05
		81 40  90 4C 20
		81 40  4C 00
		00  FF 2F 00

		4D 54 72 6B  00 00 00 0F
		00  C1 2E
		60  91 43 40
		82 20  43 00
		00  FF 2F 00

		4D 54 72 6B  00 00 00 15
		00  C2 46
		00  92 30 60
		00  3C 60
		83 00  30 00
		00  3C 00
		00  FF 2F 00`)

	first := &track{end: 384}
	first.add(0, timeSignature(arrangeMeter(4, 4)))
	first.add(0, tempo(500_000))
	piano := &track{}
	piano.add(0, midifile.Message(midi.ProgramChange(0, 5)))
	piano.add(192, midifile.Message(midi.NoteOn(0, 76, 32)))
	piano.add(384, midifile.Message(midi.NoteOn(0, 76, 0)))
	harp := &track{}
	harp.add(0, midifile.Message(midi.ProgramChange(1, 46)))
	harp.add(96, midifile.Message(midi.NoteOn(1, 67, 64)))
	harp.add(384, midifile.Message(midi.NoteOn(1, 67, 0)))
	bassoon := &track{}
	bassoon.add(0, midifile.Message(midi.ProgramChange(2, 70)))
	bassoon.add(0, midifile.Message(midi.NoteOn(2, 48, 96)))
	bassoon.add(0, midifile.Message(midi.NoteOn(2, 60, 96)))
	bassoon.add(384, midifile.Message(midi.NoteOn(2, 48, 0)))
	bassoon.add(384, midifile.Message(midi.NoteOn(2, 60, 0)))

	var got bytes.Buffer
	require.NoError(t, write(&got, 96, []*track{first, piano, harp, bassoon}))
	assert.Equal(t, hex.Dump(want), hex.Dump(got.Bytes()))
}

func TestKeyIsLetGoBeforeItIsStruckAgain(t *testing.T) {
	sounding := &track{notes: []note{{0, 100, 60, 90}, {100, 200, 60, 80}, {100, 200, 64, 80}}, end: 480}
	chunk, err := sounding.chunk()
	require.NoError(t, err)
	var got []string
	for _, e := range chunk {
		got = append(got, e.Message.String())
	}
	assert.Equal(t, []string{
		"NoteOn channel: 0 key: 60 velocity: 90",
		"NoteOff channel: 0 key: 60",
		"NoteOn channel: 0 key: 60 velocity: 80",
		"NoteOn channel: 0 key: 64 velocity: 80",
		"NoteOff channel: 0 key: 60",
		"NoteOff channel: 0 key: 64",
		"MetaEndOfTrack",
	}, got)
}

func TestStringsThatSoundOneKeyArePartedWithoutLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := rapid.SliceOf(rapid.Custom(func(t *rapid.T) note {
			start := rapid.IntRange(0, 60).Draw(t, "start")
			return note{
				start:    start,
				end:      start + rapid.IntRange(1, 30).Draw(t, "length"),
				key:      rapid.IntRange(60, 62).Draw(t, "key"),
				velocity: rapid.IntRange(1, 127).Draw(t, "velocity"),
			}
		})).Draw(t, "notes")

		type stroke struct{ tick, key int }
		want, wantStrokes := map[stroke]bool{}, map[stroke]int{}
		for _, n := range notes {
			for tick := n.start; tick < n.end; tick++ {
				want[stroke{tick, n.key}] = true
			}
			at := stroke{n.start, n.key}
			wantStrokes[at] = max(wantStrokes[at], n.velocity)
		}
		got, gotStrokes := map[stroke]bool{}, map[stroke]int{}
		for _, n := range parted(notes) {
			for tick := n.start; tick < n.end; tick++ {
				at := stroke{tick, n.key}
				require.False(t, got[at], "key %d sounds twice at tick %d", n.key, tick)
				got[at] = true
			}
			gotStrokes[stroke{n.start, n.key}] = n.velocity
		}
		require.Equal(t, want, got, "what sounds")
		require.Equal(t, wantStrokes, gotStrokes, "what is struck, and how loud")
	})
}

func TestWhatMIDICannotSayIsAnError(t *testing.T) {
	for _, row := range []struct {
		note  note
		wants string
	}{
		{note{-1, 10, 60, 90}, "tick -1"},
		{note{10, 10, 60, 90}, "length 0"},
		{note{0, 10, 128, 90}, "key 128"},
		{note{0, 10, -1, 90}, "key -1"},
		{note{0, 10, 60, 0}, "velocity 0"},
		{note{0, 10, 60, 128}, "velocity 128"},
	} {
		var buf bytes.Buffer
		err := write(&buf, 480, []*track{{}, {notes: []note{row.note}}})
		assert.ErrorContains(t, err, row.wants)
		assert.ErrorContains(t, err, "track 2")
		assert.Zero(t, buf.Len(), "nothing is written")
	}
}

var errFull = errors.New("no space left")

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestFailureToWriteIsReported(t *testing.T) {
	s := steps(t)
	assert.ErrorIs(t, Write(fullDisk{}, s), errFull)
	assert.ErrorIs(t, WritePerformance(fullDisk{}, s, stepsPlayed(t, s)), errFull)
}

func unhex(t *testing.T, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.Join(strings.Fields(s), ""))
	require.NoError(t, err)
	return b
}
