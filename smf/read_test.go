package smf

import (
	"bytes"
	"fmt"
	"math/big"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"

	"thirdwise/arrange/score"
)

// dump lists a file's messages with their absolute ticks.
func dump(t *testing.T, file []byte) string {
	t.Helper()
	parsed, err := midifile.ReadFrom(bytes.NewReader(file))
	require.NoError(t, err)
	var b strings.Builder
	fmt.Fprintf(&b, "format %d, %s\n", parsed.Format(), parsed.TimeFormat)
	for _, track := range parsed.Tracks {
		b.WriteString("\n")
		tick := 0
		for _, e := range track {
			tick += int(e.Delta)
			fmt.Fprintf(&b, "%6d  %s\n", tick, e.Message)
		}
	}
	return b.String()
}

// A readFile is what gomidi makes of the bytes.
type readFile struct {
	tempos []score.TempoChange
	tracks []readTrack
}

type readTrack struct {
	name  string
	notes []note
	end   int
}

func read(t *testing.T, file []byte) readFile {
	t.Helper()
	parsed, err := midifile.ReadFrom(bytes.NewReader(file))
	require.NoError(t, err)
	require.EqualValues(t, 1, parsed.Format())
	require.Equal(t, midifile.MetricTicks(480), parsed.TimeFormat)
	var out readFile
	for _, messages := range parsed.Tracks {
		var track readTrack
		open := map[uint8]note{}
		for _, e := range messages {
			track.end += int(e.Delta)
			var channel, key, velocity uint8
			switch m := e.Message; {
			case m.GetMetaTrackName(&track.name):
			case m.Is(midifile.MetaTempoMsg):
				micros := int(m[3])<<16 | int(m[4])<<8 | int(m[5])
				out.tempos = append(out.tempos, score.TempoChange{Tick: track.end, QuarterMicros: micros})
			case m.Is(midi.NoteOnMsg):
				m.GetNoteOn(&channel, &key, &velocity)
				require.NotContains(t, open, key, "track %q, tick %d", track.name, track.end)
				open[key] = note{start: track.end, key: int(key), velocity: int(velocity)}
			case m.Is(midi.NoteOffMsg):
				m.GetNoteOff(&channel, &key, &velocity)
				require.Contains(t, open, key, "track %q, tick %d", track.name, track.end)
				n := open[key]
				n.end = track.end
				track.notes = append(track.notes, n)
				delete(open, key)
			}
		}
		require.Empty(t, open, "keys left hanging in %q", track.name)
		sort.SliceStable(track.notes, func(i, j int) bool { return track.notes[i].start < track.notes[j].start })
		out.tracks = append(out.tracks, track)
	}
	return out
}

func (f readFile) named(t *testing.T, name string) readTrack {
	t.Helper()
	for _, track := range f.tracks {
		if track.name == name {
			return track
		}
	}
	require.Fail(t, "no track "+name)
	return readTrack{}
}

// sample returns where a tick falls at a rate in Hz, tempo by tempo.
func (f readFile) sample(tick, rate int) int {
	sum := new(big.Int) // microseconds times ticks a quarter
	for i, change := range f.tempos {
		if change.Tick >= tick {
			break
		}
		end := tick
		if i+1 < len(f.tempos) {
			end = min(end, f.tempos[i+1].Tick)
		}
		sum.Add(sum, big.NewInt(int64(end-change.Tick)*int64(change.QuarterMicros)))
	}
	second := big.NewInt(480 * 1_000_000)
	sum.Mul(sum, big.NewInt(int64(rate)))
	sum.Add(sum, big.NewInt(second.Int64()/2))
	return int(sum.Div(sum, second).Int64())
}
