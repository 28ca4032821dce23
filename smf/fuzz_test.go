package smf

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
	midifile "gitlab.com/gomidi/midi/v2/smf"
)

// Whatever notes a part has, the file holds them: read back by gomidi, each key sounds
// where one of its notes did, is never struck while it sounds, and is let go.
func FuzzNotesReadBack(f *testing.F) {
	f.Add([]byte{0, 10, 60, 90})
	f.Add([]byte{0, 10, 60, 90, 5, 10, 60, 80, 5, 2, 64, 1})
	f.Add([]byte{0, 255, 0, 127, 255, 1, 127, 1})
	f.Fuzz(func(t *testing.T, bytesOf []byte) {
		var notes []note
		at := 0
		for ; len(bytesOf) >= 4; bytesOf = bytesOf[4:] {
			at += int(bytesOf[0])
			notes = append(notes, note{at, at + 1 + int(bytesOf[1]), int(bytesOf[2] % 128), 1 + int(bytesOf[3]%127)})
		}
		first, part := &track{}, &track{notes: notes}
		part.add(0, midifile.MetaTrackSequenceName("Part"))
		var file bytes.Buffer
		require.NoError(t, write(&file, 480, []*track{first, part}))
		want, got := map[[2]int]bool{}, map[[2]int]bool{}
		for _, n := range notes {
			for tick := n.start; tick < n.end; tick++ {
				want[[2]int{tick, n.key}] = true
			}
		}
		for _, n := range read(t, file.Bytes()).named(t, "Part").notes {
			for tick := n.start; tick < n.end; tick++ {
				require.False(t, got[[2]int{tick, n.key}], "key %d sounds twice at tick %d", n.key, tick)
				got[[2]int{tick, n.key}] = true
			}
		}
		require.Equal(t, want, got)
	})
}
