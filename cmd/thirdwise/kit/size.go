package kit

import (
	"fmt"
	"math"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/musicxml"
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
	Memory  int64   // bytes at most, beside what all kits of a run share
	Alone   int64   // bytes of memory, about, where no other kit is made
	Work    float64 // seconds of one processor, about, on an ordinary machine
	Longest float64 // the part of them that one processor does, whatever the number
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

// What making a kit takes at most, of which follows how many are made at once.
const (
	memoryAKit  = 12_000_000 // bytes
	memoryANote = 4_500      // bytes a note, once through the chart
	keptAFrame  = 8          // bytes, of tracks that are kept until their gain is known
)

// What a kit takes on the disk, as BenchmarkEstimates measures it, and a tenth more.
const (
	bytesAKit    = 2_200_000 // most of it the engine of the page
	bytesAThird  = 4_700
	bytesABar    = 4_300
	bytesANote   = 190  // of chords, bass and groove, once through the chart
	bytesWritten = 700  // more for each note of a strum that is written out
	bytesPlayed  = 11   // a note, each time it is played
	ringsOn      = 6.0  // seconds a track, after its last bar
	flacOf16     = 0.55 // of the bytes of the samples, of so many bits
	flacOf24     = 0.75
)

// What one kit alone takes of memory and time, measured likewise. Memory is mostly the
// sounds of notes, for which there is a limit that most kits come near.
const (
	aloneAKit   = 33_000_000 // bytes: the program, and the fonts
	aloneAThird = 11_000
	aloneABar   = 3_000
	aloneANote  = 300
	aloneSounds = 98_000_000 // where there are tracks
	aloneHeard  = 400        // a note of a track
	aloneATrack = 900_000
	workAKit    = 0.15 // seconds
	workSounds  = 0.2  // where there are tracks
	workAThird  = 0.0006
	workABar    = 0.0004
	workANote   = 0.00001
	workPlaying = 0.0017 // a second that is played, however many mixes there are of it
	workWriting = 0.0008 // a second of a track
	workFLAC    = 0.01   // more for one that is FLAC
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

// onPaper returns what a kit takes without its tracks.
func (k Kit) onPaper(written int) Size {
	thirds, bars := int64(len(k.Score.Line)), int64(len(k.Score.Bars))
	others, played := int64(written)-2*thirds, int64(written*k.passes())
	size := Size{
		Files:  1,
		Bytes:  bytesAKit + thirds*bytesAThird + bars*bytesABar + others*bytesANote + played*bytesPlayed,
		Memory: memoryAKit + int64(written)*memoryANote,
		Alone:  aloneAKit + thirds*aloneAThird + bars*aloneABar + others*aloneANote,
		Work:   workAKit + float64(thirds)*workAThird + float64(bars)*workABar + float64(others)*workANote,
	}
	if k.Chords == musicxml.Written {
		size.Bytes += others * bytesWritten
	}
	return size
}

// measured adds up what the kit's files take.
func (k Kit) measured(written int, outputs []output) (Size, error) {
	size := k.onPaper(written)
	if k.Page != nil {
		size.Files++
	}
	reference := k.reference(outputs)
	kept := int64(0)  // bytes, until the gain is known
	heard := int64(0) // notes, in all tracks
	playing := map[*score.Performance]bool{}
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
			bytes = int64(map[int]float64{16: flacOf16, 24: flacOf24}[k.Format.Depth] * float64(bytes))
		}
		if o.track.Performance == reference {
			kept += int64(seconds * float64(k.Format.Rate) * keptAFrame)
		}
		size.Seconds += seconds
		size.Bytes += bytes
		heard += int64(len(o.track.Performance.Notes))
		size.Work += seconds * workWriting
		if k.Format.Container == audiofile.FLAC {
			size.Work += seconds * workFLAC
		}
		if !playing[o.track.Performance] {
			playing[o.track.Performance] = true
			size.Work += seconds * workPlaying
			size.Longest = max(size.Longest, seconds*(workPlaying+workWriting))
		}
	}
	if size.Tracks > 0 {
		size.Work += workSounds
		size.Alone += aloneSounds + heard*aloneHeard + int64(size.Tracks)*aloneATrack
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
