package kit

import (
	"fmt"
	"math"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/score"
	"thirdwise/synth"
	"thirdwise/synth/audiofile"
)

// A Size is what a kit takes.
type Size struct {
	Files   int
	Tracks  int     // of the files; all are open at once
	Seconds float64 // of audio, all tracks together
	Bytes   int64   // on the disk: hardly more, and seldom much less
	Memory  int64   // bytes, beside what all kits of a run share
	Work    float64 // seconds of one processor, about, on an ordinary machine
}

// A TooLargeError says why a kit cannot be made, and what would help.
type TooLargeError struct{ Message, Remedy string }

func (e *TooLargeError) Error() string { return e.Message + "; " + e.Remedy }

// Limits that keep the memory of the program below 300 MB, whatever is asked for.
const (
	maxWritten = 36_000  // notes of line, chords, bass and groove, once through the chart
	maxPlayed  = 250_000 // the same notes, in all passes at all tempos
	maxTracks  = 400     // audio files, which are written side by side
)

// What a kit takes beside its samples, generously: sounds that ring on after the
// last bar, and what is written of each note.
const (
	ringsOn      = 6.0 // seconds a track
	perNote      = 1500
	perKit       = 2_000_000
	flacOfSample = 0.7 // of the bytes of the samples; most tracks need half
)

// What making a kit takes, as it was measured: of short exercises, and of the longest
// that are allowed.
const (
	memoryAKit  = 12_000_000 // bytes
	memoryANote = 4_500      // bytes a note, once through the chart
	keptAFrame  = 8          // bytes, of tracks that are kept until their gain is known
	workAKit    = 0.2        // seconds
	workANote   = 0.0006     // seconds a note, once through the chart
	workASecond = 1.0 / 400  // seconds a second of sound
)

// Size returns what the kit will take. A kit that cannot be made is a
// [TooLargeError]; one of whose sheet a bar does not fit is another error.
func (k Kit) Size() (Size, error) {
	s := k.Score
	written := 2*len(s.Line) + len(s.Bass) + len(s.Groove)
	for _, strum := range s.Strums {
		written += len(strum.Notes)
	}
	if written > maxWritten {
		return Size{}, &TooLargeError{
			fmt.Sprintf("the exercise has %d notes, and a kit can have %d", written, maxWritten),
			"write a shorter chart, or a strum of fewer strokes",
		}
	}
	if notes := written * k.passes(); notes > maxPlayed {
		return Size{}, &TooLargeError{
			fmt.Sprintf("the exercise has %d notes to play at all its tempos, and a kit can have %d", notes, maxPlayed),
			"ask for fewer passes or tempos",
		}
	}
	n := paper.Notate(s)
	if err := sheet.Check(n, k.Sheet); err != nil {
		return Size{}, err
	}
	return k.measured(written, k.outputs(n))
}

// passes returns how many times the chart is gone through in all performances.
func (k Kit) passes() int {
	s := k.Score
	atEach := s.Passes
	if slices.Contains(k.Mixes, score.Loop) {
		atEach++
	}
	if slices.Contains(k.Mixes, score.Turns) {
		atEach += s.Passes
	}
	passes := len(s.Tempos) * atEach
	if s.Climb > 0 {
		passes += (slices.Max(s.Tempos)-slices.Min(s.Tempos))/s.Climb + 2
	}
	return passes
}

// measured adds up what the kit's files take.
func (k Kit) measured(written int, outputs []output) (Size, error) {
	size := Size{
		Files: 1, Bytes: perKit + int64(written)*perNote,
		Memory: memoryAKit + int64(written)*memoryANote, Work: workAKit + float64(written)*workANote,
	}
	if k.Page != nil {
		size.Files++
	}
	reference := k.reference(outputs)
	kept := int64(0) // bytes, until the gain is known
	for _, o := range outputs {
		size.Files++
		if o.track == nil {
			continue
		}
		size.Tracks++
		seconds := float64(o.track.Performance.Sample(o.track.Performance.Length, 1000))/1000 + ringsOn
		bytes := int64(seconds * float64(k.Format.Rate) * 2 * float64(k.Format.Depth) / 8)
		if k.Format.Container == audiofile.WAV && bytes > math.MaxUint32 {
			return Size{}, &TooLargeError{
				fmt.Sprintf("%s would hold %.1f hours, and a WAV file holds 4 GiB", o.Name, seconds/3600),
				"ask for --format flac, or for fewer passes",
			}
		}
		if k.Format.Container == audiofile.FLAC {
			bytes = int64(flacOfSample * float64(bytes))
		}
		if o.track.Performance == reference {
			kept += int64(seconds * float64(k.Format.Rate) * keptAFrame)
		}
		size.Seconds += seconds
		size.Bytes += bytes
		size.Work += seconds * workASecond
	}
	if kept <= synth.KeptAtMost {
		size.Memory += kept
	}
	if size.Tracks > maxTracks {
		return Size{}, &TooLargeError{
			fmt.Sprintf("the kit would have %d tracks, and it can have %d", size.Tracks, maxTracks),
			"ask for fewer tempos or mixes",
		}
	}
	return size, nil
}
