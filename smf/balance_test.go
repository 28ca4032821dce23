package smf

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"

	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// messages returns the channel messages of a file with their ticks, for each channel as
// people count them.
func messages(t *testing.T, file []byte) map[int][]event {
	t.Helper()
	parsed, err := midifile.ReadFrom(bytes.NewReader(file))
	require.NoError(t, err)
	all := map[int][]event{}
	for _, track := range parsed.Tracks {
		tick := 0
		for _, e := range track {
			tick += int(e.Delta)
			var channel uint8
			if e.Message.GetChannel(&channel) {
				all[int(channel)+1] = append(all[int(channel)+1], event{tick, e.Message})
			}
		}
	}
	return all
}

// controller returns the values that a controller is set to, in their order.
func controller(events []event, number uint8) (values []int) {
	for _, e := range events {
		var channel, which, value uint8
		if e.message.GetControlChange(&channel, &which, &value) && which == number {
			values = append(values, int(value))
		}
	}
	return values
}

// withBass returns the two steps with one note of the bass.
func withBass(t testing.TB) *score.Score {
	s := steps(t)
	pitch, err := theory.ParsePitch("G1")
	require.NoError(t, err)
	s.Bass = []score.BassNote{{Tick: 0, Length: 480, Pitch: pitch}}
	return s
}

// The channels of General MIDI level 1, in which percussion is channel 10: a player
// finds each part on its own, at its loudness and place.
func TestEachPartHasItsChannelItsVolumeAndItsPlace(t *testing.T) {
	s := withBass(t)
	s.Passes = 1
	var buf bytes.Buffer
	require.NoError(t, WritePerformance(&buf, s, s.Perform(s.Tempos[0])))
	played := messages(t, buf.Bytes())
	for channel, want := range map[int]struct {
		part        string
		volume, pan int
	}{1: {"chords", 100, 45}, 2: {"guide", 107, 83}, 3: {"bass", 118, 64}, 10: {"click", 127, 64}} {
		assert.Equal(t, []int{want.volume}, controller(played[channel], 7), want.part)
		assert.Equal(t, []int{want.pan}, controller(played[channel], 10), want.part)
		assert.Equal(t, 127, controller(played[channel], 11)[0], want.part)
	}
	assert.Len(t, played, 4)
}

// The groove shares the click's channel and its volume, so that its own loudness is in
// its strokes: softer than the audio's on maracas (82 %), harder on a snare (132 %),
// and never beyond what MIDI has.
func TestAStrokeOfTheGrooveIsAsLoudAsItsInstrumentAsks(t *testing.T) {
	for sound, want := range map[score.Percussion][3]int{
		score.ShakeForth: {82, 104, 1}, score.ShakeBack: {82, 104, 1}, score.Tap: {127, 127, 1}, score.Sweep: {127, 127, 1},
	} {
		for i, velocity := range []int{100, 127, 1} {
			assert.Equal(t, want[i], grooveVelocity(score.PercussionStroke{Sound: sound, Velocity: velocity}), "%s at %d", sound.Instrument(), velocity)
		}
	}
	assert.Equal(t, 66, grooveVelocity(score.PercussionStroke{Sound: score.Tap, Velocity: 50}))
	assert.Equal(t, 105, grooveVelocity(score.PercussionStroke{Sound: score.Sweep, Velocity: 80}))
}

// The brush set of General MIDI level 2 is program 40, counted from 0. It is chosen
// before the first stroke and once; a shaker is in every set. Where no groove plays
// there is no track of it.
func TestBrushesArePlayedByTheBrushSet(t *testing.T) {
	for name, c := range map[string]struct {
		sounds   []score.Percussion
		programs []string
		tracks   int
	}{
		"brushes":   {[]score.Percussion{score.Sweep, score.Tap, score.Sweep}, []string{midi.ProgramChange(9, 40).String()}, 5},
		"a tap":     {[]score.Percussion{score.Tap}, []string{midi.ProgramChange(9, 40).String()}, 5},
		"a shaker":  {[]score.Percussion{score.ShakeForth, score.ShakeBack}, nil, 5},
		"no groove": {nil, nil, 4},
	} {
		s := steps(t)
		p := stepsPlayed(t, s)
		for i, sound := range c.sounds {
			p.Percussion = append(p.Percussion, score.PercussionStroke{Tick: 1920 + 480*i, Sound: sound, Velocity: 80})
		}
		var buf bytes.Buffer
		require.NoError(t, WritePerformance(&buf, s, p))
		parsed, err := midifile.ReadFrom(bytes.NewReader(buf.Bytes()))
		require.NoError(t, err)
		assert.Len(t, parsed.Tracks, c.tracks, name)
		var programs []string
		for _, e := range messages(t, buf.Bytes())[10] {
			if e.message.Is(midi.ProgramChangeMsg) {
				programs = append(programs, e.message.String())
				assert.Zero(t, e.tick, name)
			}
		}
		assert.Equal(t, c.programs, programs, name)
	}
}

// In the written file the guide stands before the chords and the bass between them.
func TestPartsOfTheWrittenFileHaveOneVelocityEach(t *testing.T) {
	var buf bytes.Buffer
	require.NoError(t, Write(&buf, withBass(t)))
	for channel, want := range map[int]uint8{1: 72, 2: 96, 3: 84} {
		struck := 0
		for _, e := range messages(t, buf.Bytes())[channel] {
			var on, key, velocity uint8
			if e.message.GetNoteOn(&on, &key, &velocity) && velocity > 0 {
				struck++
				assert.Equal(t, want, velocity, "channel %d", channel)
			}
		}
		assert.NotZero(t, struck, "channel %d", channel)
	}
}

// A part that ends with the last bar line has nothing to fade; one that rings on goes
// down to silence and never up.
func TestOnlyWhatRingsOnFades(t *testing.T) {
	var sounding track
	sounding.fade(&score.Performance{Length: 960, End: 960})
	assert.Empty(t, sounding.events)

	sounding.fade(&score.Performance{Length: 960, End: 960 + 720})
	require.Len(t, sounding.events, 24)
	values := controller(sounding.events, 11)
	assert.IsNonIncreasing(t, values)
	assert.Zero(t, values[23])
	assert.Equal(t, 90, values[11], "half of the amplitude, which goes with the square of the controller: 127/√2")
	assert.Equal(t, 960+240+20, sounding.events[0].tick, "for a third of the time they sound as they are")
	assert.Equal(t, 960+720, sounding.events[23].tick)
}

func TestTheLimitsOfMIDIAreSaid(t *testing.T) {
	for _, n := range []note{{0, 1, 0, 1}, {0, 1, 127, 127}} {
		var buf bytes.Buffer
		require.NoError(t, write(&buf, 480, []*track{{notes: []note{n}}}))
		assert.Contains(t, strings.Join(struckIn(t, buf.Bytes()), "\n"), midi.NoteOn(0, uint8(n.key), uint8(n.velocity)).String())
	}
}

// struckIn lists the messages of a file's first channel.
func struckIn(t *testing.T, file []byte) (all []string) {
	for _, e := range messages(t, file)[1] {
		all = append(all, e.message.String())
	}
	return all
}
