package smf

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2/gm"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

func TestWrittenFileHoldsTheScoreNoteForNote(t *testing.T) {
	checkWritten(t, steps(t))
	for _, s := range exercises(t) {
		checkWritten(t, s)
	}
}

// checkWritten reads the score's written file back and compares it with the
// score.
func checkWritten(t *testing.T, s *score.Score) {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, Write(&buf, s))
	file := read(t, buf.Bytes())

	type sounding struct{ start, end, key int }
	var line []sounding
	for _, third := range s.Line {
		end := third.Tick + third.Length
		line = append(line, sounding{third.Tick, end, third.Notes.Lower.MIDI()}, sounding{third.Tick, end, third.Notes.Upper.MIDI()})
	}
	var chords []sounding
	for _, strum := range s.Strums {
		struck := map[int]bool{} // two strings may sound one key
		for _, n := range strum.Notes {
			if key := n.Pitch.MIDI(); !struck[key] {
				struck[key] = true
				chords = append(chords, sounding{strum.Tick, strum.Tick + strum.Length, key})
			}
		}
	}
	parts := map[string][]sounding{"Guide": line, "Chords": chords}
	for _, n := range s.Bass {
		parts["Bass"] = append(parts["Bass"], sounding{n.Tick, n.Tick + n.Length, n.Pitch.MIDI()})
	}
	for name, want := range parts {
		var got []sounding
		for _, n := range file.named(t, name).notes {
			got = append(got, sounding{n.start, n.end, n.key})
		}
		assert.ElementsMatch(t, want, got, "%s of %q", name, s.Title)
	}
	for _, track := range file.tracks {
		assert.Equal(t, s.Length(), track.end, "track %q ends on the last bar line", track.name)
		assertNoOverlap(t, track)
	}
	for _, track := range file.tracks {
		assert.NotEqual(t, "Click", track.name, "an editor would make a staff of it")
	}
}

// assertNoOverlap reports notes of different starts that sound together.
func assertNoOverlap(t *testing.T, track readTrack) {
	t.Helper()
	end, start := 0, 0
	for _, n := range track.notes {
		if n.start != start {
			assert.GreaterOrEqual(t, n.start, end, "track %q, tick %d", track.name, n.start)
		}
		start, end = n.start, max(end, n.end)
	}
}

func TestPerformanceFileIsTheAudioTickForSample(t *testing.T) {
	s := steps(t)
	checkPlayed(t, s, stepsPlayed(t, s))
	for _, s := range exercises(t) {
		for _, tempo := range s.Tempos {
			checkPlayed(t, s, s.Perform(tempo))
		}
		for _, sound := range []score.Percussion{score.ShakeBack, score.Tap} {
			grooving := *s
			grooving.Groove = []score.GrooveStroke{{Tick: s.Length() / 2, Sound: sound}, {Tick: s.Length()/2 + 480, Sound: score.Sweep}}
			grooving.ClickEnds = true
			checkPlayed(t, &grooving, grooving.Perform(s.Tempo()))
		}
		climb := *s
		climb.Tempos, climb.Climb = []int{60, 97}, 7
		checkPlayed(t, &climb, climb.Climbing())
	}
}

// trackOf names the track that each part stands in.
var trackOf = map[score.Part]string{
	score.Chords: "Chords", score.GuideUpper: "Guide", score.GuideLower: "Guide", score.Bass: "Bass",
}

// checkPlayed reads the performance's file back. The time of each note follows
// from nothing but the file: deltas and tempo events.
func checkPlayed(t *testing.T, s *score.Score, p *score.Performance) {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, WritePerformance(&buf, s, p))
	file := read(t, buf.Bytes())
	const rate = 44_100

	type onset struct{ sample, key int }
	strokes := map[string]map[onset]int{"Click": {}, "Chords": {}, "Guide": {}} // to velocity
	for _, c := range p.Click {
		key := 77
		if c.Accent {
			key = 76
		}
		strokes["Click"][onset{p.Sample(c.Tick, rate), key}] = c.Velocity
	}
	// General MIDI level 1, the percussion key map: maracas, acoustic and electric snare.
	keys := map[score.Percussion]int{score.ShakeForth: 70, score.ShakeBack: 70, score.Tap: 38, score.Sweep: 40}
	for _, stroke := range p.Percussion {
		if strokes["Groove"] == nil {
			strokes["Groove"] = map[onset]int{}
		}
		strokes["Groove"][onset{p.Sample(stroke.Tick, rate), keys[stroke.Sound]}] = grooveVelocity(stroke)
	}
	for _, n := range p.Notes {
		part, at := trackOf[n.Part], onset{p.Sample(n.Tick, rate), n.Pitch.MIDI()}
		if strokes[part] == nil {
			strokes[part] = map[onset]int{}
		}
		strokes[part][at] = max(strokes[part][at], n.Velocity)
	}
	require.Len(t, file.tracks, 1+len(strokes))
	for name, want := range strokes {
		got := map[onset]int{}
		for _, n := range file.named(t, name).notes {
			got[onset{file.sample(n.start, rate), n.key}] = n.velocity
		}
		assert.Equal(t, want, got, name)
	}
	for _, track := range file.tracks {
		assert.GreaterOrEqual(t, track.end, p.Length, "track %q", track.name)
	}
}

func TestTempoAndMeterAreThoseOfTheStandard(t *testing.T) {
	for _, row := range []struct {
		beats, unit int
		want        string
	}{
		{4, 4, "FF 58 04 04 02 18 08"}, // Standard MIDI Files 1.0, worked example; from memory
		{6, 8, "FF 58 04 06 03 24 08"}, // Standard MIDI Files 1.0, "FF 58": the standard's own case; from memory
		{3, 4, "FF 58 04 03 02 18 08"},
		{12, 8, "FF 58 04 0C 03 24 08"},
		{2, 2, "FF 58 04 02 01 30 08"},
	} {
		assert.Equal(t, unhex(t, row.want), []byte(timeSignature(arrangeMeter(row.beats, row.unit))))
	}
	// Standard MIDI Files 1.0, worked example: 120 quarters a minute; from memory.
	assert.Equal(t, unhex(t, "FF 51 03 07 A1 20"), []byte(tempo(500_000)))
	for _, m := range meter.Meters() {
		for bpm := 20; bpm <= 400; bpm++ {
			micros := m.QuarterMicros(bpm)
			got := tempo(micros)
			assert.Equal(t, micros, int(got[3])<<16|int(got[4])<<8|int(got[5]))
		}
	}
}

// Standard MIDI Files 1.0, "FF 59": sharps positive, flats negative, then 0 for
// a major key and 1 for a minor one; the keys' signatures are those of the
// circle of fifths. Modes take the side of their third.
func TestKeySignatureNamesSharpsAndSide(t *testing.T) {
	for _, row := range []struct {
		key         string
		sharps, min byte
	}{
		{"C major", 0, 0}, {"A minor", 0, 1},
		{"C# major", 7, 0}, {"A# minor", 7, 1},
		{"Cb major", 0xF9, 0}, {"Ab minor", 0xF9, 1},
		{"Bb major", 0xFE, 0}, {"G minor", 0xFE, 1}, {"F major", 0xFF, 0},
		{"E harmonic minor", 1, 1}, {"D dorian", 0, 1}, {"E phrygian", 0, 1},
		{"F lydian", 0, 0}, {"D mixolydian", 1, 0}, {"B locrian", 0, 1},
	} {
		key, err := theory.ParseKey(row.key)
		require.NoError(t, err)
		events := signatures(&score.Score{Key: key, Meter: arrangeMeter(4, 4)}).events
		assert.Equal(t, []byte{0xFF, 0x59, 0x02, row.sharps, row.min}, []byte(events[2].message), row.key)
	}
}

// General MIDI level 1, as the library lists the programs, from 0; the percussion
// keys, 76 Hi Wood Block and 77 Low Wood Block, from memory.
func TestInstrumentsAreThoseOfGeneralMIDI(t *testing.T) {
	assert.EqualValues(t, gm.Instr_AcousticGuitarSteel, steelGuitar)
	assert.EqualValues(t, gm.Instr_AcousticGuitarNylon, nylonGuitar)
	assert.EqualValues(t, gm.Instr_ElectricBassFinger, fingeredBass)
	assert.Equal(t, 76, woodBlock(true))
	assert.Equal(t, 77, woodBlock(false))
	assert.EqualValues(t, 10-1, clickChannel)
}

func TestFilesReadAsTheGoldenDumps(t *testing.T) {
	s := steps(t)
	var written, played bytes.Buffer
	require.NoError(t, Write(&written, s))
	require.NoError(t, WritePerformance(&played, s, stepsPlayed(t, s)))
	for name, file := range map[string][]byte{"written": written.Bytes(), "played": played.Bytes()} {
		goldentest.Equal(t, filepath.Join("testdata", name+".txt"), dump(t, file))
	}
}

func BenchmarkWrite(b *testing.B) {
	s := steps(b)
	for len(s.Bars) < 1024 {
		s = twice(s)
	}
	var buf bytes.Buffer
	b.ReportAllocs()
	for b.Loop() {
		buf.Reset()
		if err := Write(&buf, s); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(buf.Len()))
	b.ReportMetric(float64(len(s.Bars)), "bars")
}
