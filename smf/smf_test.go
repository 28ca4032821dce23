package smf

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"

	"thirdwise/arrange"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestWrittenFileHoldsTheScoreNoteForNote(t *testing.T) {
	checkWritten(t, steps(t))
	for _, s := range exercises(t) {
		checkWritten(t, s)
	}
}

// checkWritten reads the score's written file back and compares it with the
// score.
func checkWritten(t *testing.T, s *arrange.Score) {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, Write(&buf, s))
	file := read(t, buf.Bytes())

	type sounding struct{ start, end, key int }
	var line []sounding
	for _, third := range s.Line {
		end := third.Tick + third.Length
		line = append(line, sounding{third.Tick, end, third.Third.Lower.MIDI()}, sounding{third.Tick, end, third.Third.Upper.MIDI()})
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
	for name, want := range map[string][]sounding{"Guide": line, "Chords": chords} {
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
	for _, n := range file.named(t, "Click").notes {
		assert.Equal(t, n.start%s.Meter.Bar() == 0, n.key == 76, "the high wood block is on one") // General MIDI level 1
	}
	assert.Len(t, file.named(t, "Click").notes, s.Length()/s.Meter.UnitTicks())
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
	}
}

// checkPlayed reads the performance's file back. The time of each note follows
// from nothing but the file: deltas and tempo events.
func checkPlayed(t *testing.T, s *arrange.Score, p *arrange.Performance) {
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
	for _, n := range p.Notes {
		part, at := "Guide", onset{p.Sample(n.Tick, rate), n.Pitch.MIDI()}
		if n.Part == arrange.Chords {
			part = "Chords"
		}
		strokes[part][at] = max(strokes[part][at], n.Velocity)
	}
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
	for _, m := range arrange.Meters() {
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
		{"Bb major", 0xFE, 0}, {"G minor", 0xFE, 1},
		{"E harmonic minor", 1, 1}, {"D dorian", 0, 1}, {"E phrygian", 0, 1},
		{"F lydian", 0, 0}, {"D mixolydian", 1, 0}, {"B locrian", 0, 1},
	} {
		key, err := theory.ParseKey(row.key)
		require.NoError(t, err)
		events := signatures(&arrange.Score{Key: key, Meter: arrangeMeter(4, 4)}).events
		assert.Equal(t, []byte{0xFF, 0x59, 0x02, row.sharps, row.min}, []byte(events[2].message), row.key)
	}
}

func TestFilesReadAsTheGoldenDumps(t *testing.T) {
	s := steps(t)
	var written, played bytes.Buffer
	require.NoError(t, Write(&written, s))
	require.NoError(t, WritePerformance(&played, s, stepsPlayed(t, s)))
	for name, file := range map[string][]byte{"written": written.Bytes(), "played": played.Bytes()} {
		path, got := filepath.Join("testdata", name+".txt"), dump(t, file)
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, path)
	}
}

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
	tempos []arrange.TempoChange
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
				out.tempos = append(out.tempos, arrange.TempoChange{Tick: track.end, QuarterMicros: micros})
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
	micros := 0.0
	for i, change := range f.tempos {
		if change.Tick >= tick {
			break
		}
		end := tick
		if i+1 < len(f.tempos) {
			end = min(end, f.tempos[i+1].Tick)
		}
		micros += float64(end-change.Tick) * float64(change.QuarterMicros) / 480
	}
	return int(micros*float64(rate)/1e6 + 0.5)
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

func arrangeMeter(beats, unit int) arrange.Meter { return arrange.Meter{Beats: beats, Unit: unit} }

// twice returns the score followed by itself.
func twice(s *arrange.Score) *arrange.Score {
	out, length := *s, s.Length()
	for _, bar := range s.Bars {
		bar.Tick += length
		spans := bar.Chords
		bar.Chords = nil
		for _, span := range spans {
			span.Tick += length
			bar.Chords = append(bar.Chords, span)
		}
		out.Bars = append(out.Bars, bar)
	}
	for _, third := range s.Line {
		third.Tick += length
		out.Line = append(out.Line, third)
	}
	for _, strum := range s.Strums {
		strum.Tick += length
		out.Strums = append(out.Strums, strum)
	}
	return &out
}

// exercises returns the scores of the exercises under testdata.
func exercises(t testing.TB) []*arrange.Score {
	files, err := filepath.Glob("../testdata/exercises/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var scores []*arrange.Score
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		e, err := arrange.ParseExercise(file, text)
		require.NoError(t, err)
		s, _, err := arrange.Arrange(e)
		require.NoError(t, err)
		scores = append(scores, s)
	}
	return scores
}

// steps is two bars in G major: G, then Em and N.C., the chords strummed in
// quarters, the line in quarters and eighths.
func steps(t testing.TB) *arrange.Score {
	return &arrange.Score{
		Title:  "Two Steps Down",
		Key:    key(t, "G major"),
		Meter:  arrange.Meter{Beats: 4, Unit: 4},
		Tempos: []int{60, 90},
		Passes: 2,
		Neck:   neck.Neck{Tuning: neck.Standard()},
		Bars: []arrange.Bar{
			{Tick: 0, Section: "A", Chords: []arrange.ChordSpan{{Tick: 0, Length: 1920, Chord: chord(t, "G")}}},
			{Tick: 1920, Written: 1, Chords: []arrange.ChordSpan{
				{Tick: 1920, Length: 960, Chord: chord(t, "F#m7b5/C")},
				{Tick: 2880, Length: 960, None: true},
			}},
		},
		Line: []arrange.Third{
			third(t, 0, 1440, "G4", "B4"),
			third(t, 1440, 240, "F#4", "A4"),
			third(t, 1680, 240, "E4", "G4"),
			third(t, 1920, 960, "E4", "G4"),
		},
		Strums: []arrange.Strum{
			strum(t, 0, 960, "G2", "B2", "D3", "G3", "B3", "G4"),
			strum(t, 960, 960, "G2", "B2", "D3", "G3", "B3", "G4"),
			strum(t, 1920, 960, "E2", "B2", "E3", "B3", "B3", "E4"), // B3 on two strings
		},
	}
}

// stepsPlayed plays the score once at 60 beats a minute and, one bar of click
// later, at 90, with every string of a strum 7 ticks behind the one before and
// ringing on over the next strum.
func stepsPlayed(t testing.TB, s *arrange.Score) *arrange.Performance {
	p := &arrange.Performance{
		Tempos: []arrange.TempoChange{{Tick: 0, QuarterMicros: 1_000_000}, {Tick: 5760, QuarterMicros: 666_667}},
		Length: 2 * 5760,
	}
	for tick := 0; tick < p.Length; tick += 480 {
		p.Click = append(p.Click, arrange.ClickStroke{Tick: tick, Accent: tick%1920 == 0, Velocity: 100})
	}
	for pass, at := range []int{1920, 7680} {
		for i, bar := range s.Bars {
			p.Bars = append(p.Bars, arrange.PlayedBar{Tick: at + bar.Tick, Index: i, Pass: pass + 1})
		}
		for _, strum := range s.Strums {
			for i, n := range strum.Notes {
				p.Notes = append(p.Notes, arrange.Note{Tick: at + strum.Tick + 7*i, Length: 1100 - 20*i, Pitch: n.Pitch,
					Velocity: 70 + i, Part: arrange.Chords, Pass: pass + 1})
			}
		}
		for _, third := range s.Line {
			p.Notes = append(p.Notes,
				arrange.Note{Tick: at + third.Tick, Length: third.Length, Pitch: third.Third.Lower, Velocity: 90, Part: arrange.GuideLower, Pass: pass + 1},
				arrange.Note{Tick: at + third.Tick, Length: third.Length, Pitch: third.Third.Upper, Velocity: 95, Part: arrange.GuideUpper, Pass: pass + 1})
		}
	}
	return p
}

func third(t testing.TB, tick, length int, lower, upper string) arrange.Third {
	return arrange.Third{Tick: tick, Length: length, Third: theory.Third{Lower: pitch(t, lower), Upper: pitch(t, upper)}}
}

func strum(t testing.TB, tick, length int, pitches ...string) arrange.Strum {
	s := arrange.Strum{Tick: tick, Length: length}
	for _, p := range pitches {
		s.Notes = append(s.Notes, arrange.StrumNote{Pitch: pitch(t, p)})
	}
	return s
}

func pitch(t testing.TB, s string) theory.Pitch {
	p, err := theory.ParsePitch(s)
	require.NoError(t, err)
	return p
}

func key(t testing.TB, s string) theory.Key {
	k, err := theory.ParseKey(s)
	require.NoError(t, err)
	return k
}

func chord(t testing.TB, s string) theory.Chord {
	c, err := theory.ParseChord(s)
	require.NoError(t, err)
	return c
}
