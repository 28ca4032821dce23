package kit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/musicxml"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/score"
	"thirdwise/synth"
	"thirdwise/synth/audiofile"
	"thirdwise/theory"
)

// What a player shows of a track: its number among the kit's, its tempo in quarters a
// minute (of a dotted quarter 60 times a minute, 90), how many quarters it has, its
// meter and its key. A climb has no one tempo.
func TestTracksSayWhatTheyAre(t *testing.T) {
	k := Kit{
		Name: "lilt", Mixes: []score.Mix{score.Full, score.Guide, score.Loop}, Format: audiofile.Format{Rate: 44100, Depth: 16},
		Score: arrangetest.Score(t, "title: Lilt\nkey: A minor\nmeter: 6/8\nchart: '| Am | E7 |'\ntempos: [60, 80]\nclimb: 10\npasses: 2\nby: A Teacher\n"),
	}
	number := 0
	var titles []string
	for _, o := range k.outputs(paper.Notate(k.Score)) {
		if o.track == nil {
			continue
		}
		number++
		tags := o.track.Tags
		titles = append(titles, tags.Title)
		assert.Equal(t, []int{number, 7}, []int{tags.Track, tags.Tracks}, o.Name)
		assert.Equal(t, "A Teacher", tags.Artist)
		assert.Equal(t, "A minor", tags.Key)
		assert.Equal(t, "Am", tags.KeySign)
		if o.Climb {
			assert.Zero(t, tags.Tempo)
			assert.Zero(t, tags.Beats)
			continue
		}
		assert.InDelta(t, 1.5*float64(o.Tempo), tags.Tempo, 0.001, o.Name)
		assert.Equal(t, o.track.Performance.Length/480, tags.Beats, o.Name)
		assert.Equal(t, [2]int{6, 8}, tags.Meter)
	}
	assert.Equal(t, "Lilt, 60 beats per minute, full", titles[0])
	assert.Equal(t, "Lilt, climb, full", titles[6])
}

// Players show a key as its tonic, and m where its third is a minor one.
func TestKeysAreShownAsPlayersShowThem(t *testing.T) {
	for name, want := range map[string]string{"C major": "C", "F# minor": "F#m", "D dorian": "Dm", "Bb mixolydian": "Bb"} {
		key, err := theory.ParseKey(name)
		require.NoError(t, err)
		assert.Equal(t, want, keySign(key))
	}
}

// Levels are told to a hundredth; silence has none, whichever of the two is lacking.
func TestLevelsAreToldToAHundredth(t *testing.T) {
	k := Kit{Format: audiofile.Format{Rate: 48000, Depth: 24}}
	loud := k.sound(synth.Result{Loudness: -18.126, TruePeak: -1.2349})
	require.NotNil(t, loud.Loudness)
	assert.Equal(t, -18.13, *loud.Loudness)
	assert.Equal(t, -1.23, *loud.TruePeak)
	assert.Equal(t, []int{48000, 24}, []int{loud.Rate, loud.Depth})
	for _, silent := range []synth.Result{
		{Loudness: math.Inf(-1), TruePeak: math.Inf(-1)}, {Loudness: math.Inf(-1), TruePeak: -90}, {Loudness: -90, TruePeak: math.Inf(-1)},
	} {
		assert.Nil(t, k.sound(silent).Loudness)
		assert.Nil(t, k.sound(silent).TruePeak)
	}
}

// The manifest tells of what lies beside the audio how long it is: a bar of click and
// two of 4/4 at 120 are six seconds, after half a second of silence.
func TestFilesOfAPerformanceSayHowLongTheyAre(t *testing.T) {
	k := Kit{Name: "two", Score: arrangetest.Score(t, "title: Two\nkey: C major\nchart: '| C | G |'\ntempos: [120]\npasses: 1\n"), NoAudio: true}
	told := 0
	for _, o := range k.outputs(paper.Notate(k.Score)) {
		if o.Tempo == 120 {
			told++
			assert.InDelta(t, 6.5, o.Seconds, 0.001, o.Name)
		}
	}
	assert.Equal(t, 3, told)
}

// The groove and the click's end are described where they are asked for.
func TestTheDescriptionHoldsTheGroove(t *testing.T) {
	const song = "title: Shake\nkey: C major\nchart: '| C |'\n"
	plain := Describe(arrangetest.Score(t, song))
	assert.Empty(t, plain.Groove)
	assert.Empty(t, plain.Click)
	s := arrangetest.Score(t, song+"groove: brush\nclick: count-in\n")
	s.Groove = s.Groove[:1]
	grooving := Describe(s)
	assert.Equal(t, "brush", grooving.Groove)
	assert.Equal(t, "count-in", grooving.Click)
}

// All passes at all tempos are played: the loop once more each, the turns as often as
// the full mix, a climb once at each of its tempos.
func TestPassesAreCountedInAllThatIsPlayed(t *testing.T) {
	for text, want := range map[string]int{
		"tempos: [60]\npasses: 3\n":               3 + 1 + 3,
		"tempos: [60, 80]\npasses: 1\n":           2 * (1 + 1 + 1),
		"tempos: [60, 80]\npasses: 1\nclimb: 5\n": 2*(1+1+1) + 6,
		"tempos: [60, 62]\npasses: 1\nclimb: 1\n": 2*(1+1+1) + 4,
	} {
		k := Kit{Score: arrangetest.Score(t, "title: Often\nkey: C major\nchart: '| C |'\n"+text), Mixes: []score.Mix{score.Full, score.Loop, score.Turns}}
		assert.Equal(t, want, k.passes(), text)
		k.Mixes = k.Mixes[:1]
		assert.Equal(t, want-len(k.Score.Tempos)*(1+k.Score.Passes), k.passes(), text)
	}
}

// What is asked for beyond a limit is refused, and what reaches it is not; a message
// has the number that was asked for.
func TestLimitsAreReachedAndNotPassed(t *testing.T) {
	sized := func(notes, passes int) error { // some of each part
		s := arrangetest.Score(t, "title: Limit\nkey: C major\nchart: '| C |'\ntempos: [60]\npasses: 1\n")
		s.Line, s.Strums = nil, nil
		s.Bass, s.Groove = make([]score.BassNote, 200), make([]score.GrooveStroke, 300)
		for range (notes - 500) / 2 {
			s.Strums = append(s.Strums, score.Strum{Length: 480, Notes: make([]score.StrumNote, 2)})
		}
		s.Passes = passes
		_, err := Kit{Name: "limit", Score: s, Mixes: []score.Mix{score.ClickAlone}, Format: audiofile.Format{Rate: 44100, Depth: 16}, Sheet: sheet.Options{Paper: drawing.A4}}.Size()
		return err
	}
	assert.NoError(t, sized(36_000, 1))
	assert.ErrorContains(t, sized(36_002, 1), "the exercise has 36002 notes, and a kit can have 36000")
	assert.NoError(t, sized(2_500, 100))
	assert.ErrorContains(t, sized(2_502, 100), "the exercise has 250200 notes to play at all its tempos")

	s := arrangetest.Score(t, "title: Limit\nkey: C major\nchart: '| C |'\n")
	s.Tempos, s.Passes = nil, 1
	for tempo := range 200 {
		s.Tempos = append(s.Tempos, 100+tempo)
	}
	_, err := Kit{Name: "limit", Score: s, Mixes: []score.Mix{score.ClickAlone, score.Guide}, Format: audiofile.Format{Rate: 44100, Depth: 16}, Sheet: sheet.Options{Paper: drawing.A4}}.Size()
	assert.NoError(t, err, "400 tracks")
}

// A kit takes room for its samples and what is written, memory for its notes and for the
// tracks that are kept; and a WAV file holds 4 GiB.
func TestSizesAreThoseOfTheSamples(t *testing.T) {
	k := Kit{
		Name: "sized", Score: arrangetest.Score(t, "title: Sized\nkey: C major\nchart: '| C |'\ntempos: [120]\npasses: 1\n"),
		Mixes: []score.Mix{score.Full, score.Guide}, Format: audiofile.Format{Rate: 48000, Depth: 24},
		Sheet: sheet.Options{Paper: drawing.A4},
	}
	size, err := k.Size()
	require.NoError(t, err)
	seconds := 2 * (0.5 + 2 + 2 + ringsOn) // silence, a bar of click, a bar, and what rings on
	assert.InDelta(t, seconds, size.Seconds, 0.01)
	assert.Equal(t, 2, size.Tracks)
	samples := seconds * 48000 * 2 * 3
	others := 0
	for _, strum := range k.Score.Strums {
		others += len(strum.Notes)
	}
	thirds := len(k.Score.Line)
	notes := others + 2*thirds
	assert.InDelta(t, samples+2.2e6+float64(4700*thirds+4300+190*others+11*notes), size.Bytes, 10)
	kept := 48000 * 2 * 4 * seconds // of both tracks, until their gain is known: two numbers of four bytes a frame
	assert.EqualValues(t, memoryAKit+notes*memoryANote+int(kept), size.Memory)
	assert.EqualValues(t, 33e6+98e6+11_000*thirds+3_000+300*others+2*400*len(k.Score.Perform(120).Notes)+2*900_000, size.Alone, "two tracks")
	assert.InDelta(t, 0.35+0.0006*float64(thirds)+0.0004+0.00001*float64(others)+seconds*0.0008+seconds/2*0.0017, size.Work, 0.00001)
	assert.InDelta(t, seconds/2*0.0025, size.Longest, 0.00001, "one performance")

	k.Format.Container = audiofile.FLAC
	flac, err := k.Size()
	require.NoError(t, err)
	assert.InDelta(t, size.Bytes-int64(0.25*samples), flac.Bytes, 0.001*samples)
	assert.InDelta(t, size.Work+seconds*0.01, flac.Work, 0.00001)
	written := k
	written.Chords = musicxml.Written
	more, err := written.Size()
	require.NoError(t, err)
	assert.EqualValues(t, flac.Bytes+700*int64(others), more.Bytes, "strums are written out")
	written.NoAudio = true
	paper, err := written.Size()
	require.NoError(t, err)
	assert.EqualValues(t, 33e6+11_000*thirds+3_000+300*others, paper.Alone)

	k.Score.Tempos = []int{60, 120}
	more, err = k.Size()
	require.NoError(t, err)
	assert.Equal(t, size.Memory, more.Memory, "the gain is that of the last tempo alone")
	k.Score.Tempos = []int{120}

	k.Format.Container = audiofile.WAV
	k.Score.CountIn = 7400 // bars of two seconds
	vast, err := k.Size()
	assert.EqualValues(t, memoryAKit+notes*memoryANote, vast.Memory, "tracks of hours are not kept")
	assert.NoError(t, err, "four hours and seven minutes at 288,000 bytes a second are 4.27 GB")
	k.Score.CountIn = 75_147
	_, err = k.Size()
	assert.ErrorContains(t, err, fmt.Sprintf("sized-120-full.wav would hold %.1f hours, and a WAV file holds 4 GiB", (0.5+2*75_147+2+6)/3600))
}
