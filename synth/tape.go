package synth

import (
	"fmt"

	"thirdwise/synth/audiofile"
	"thirdwise/synth/loudness"
)

// A tape is a track as it is made, at a gain of 1: it is measured, and may be kept.
type tape struct {
	loudness    *loudness.Meter
	peak        loudness.PeakMeter
	left, right []float32 // what is kept; nil where nothing is
}

// newTape returns a tape at a rate in samples a second.
func newTape(rate int) *tape { return &tape{loudness: loudness.NewMeter(rate)} }

// keep has the tape keep all of so many frames.
func (t *tape) keep(frames int) {
	t.left, t.right = make([]float32, 0, frames), make([]float32, 0, frames)
}

// KeptAtMost is the bytes of tracks that Render keeps in memory at most, until it knows
// their gain: those of the reference. Longer ones are made twice.
const KeptAtMost = 32 << 20

// keptBytes is what tapes of all tracks of a rendition keep.
func (r *rendition) keptBytes() int { return len(r.tracks) * 2 * 4 * r.frames }

// Write measures the next samples, and keeps them where it does.
func (t *tape) Write(left, right []float32) error {
	if t.left != nil {
		t.left, t.right = append(t.left, left...), append(t.right, right...)
	}
	_ = t.loudness.Write(left, right)
	return t.peak.Write(left, right)
}

// level returns what was measured, as it is with a gain in dB.
func (t *tape) level(gain float64) audiofile.Level {
	return audiofile.Level{Loudness: t.loudness.IntegratedAt(gain), TruePeak: gain + t.peak.TruePeak()}
}

// A trackFile is the file of a track: it takes the track's samples at a gain of 1, and
// they are written with the recording's gain, as whole steps.
type trackFile struct {
	recording *recording
	track     int
	frames    int
	tape      *tape
	made      bool // the tape holds all of the track
	encoder   audiofile.Encoder
	steps     audiofile.Writer
}

// open begins the file of a track of so many frames. The tape is nil where it has yet to
// be made.
func (s *recording) open(track, frames int, made *tape) (*trackFile, error) {
	t := s.tracks[track]
	t.Tags.Loop = t.Loop
	encoder, err := audiofile.NewEncoder(t.Out, s.options.Format, frames, t.Tags)
	if err != nil {
		return nil, fmt.Errorf("track %d: %w", track+1, err)
	}
	f := &trackFile{
		recording: s, track: track, frames: frames, tape: made, made: made != nil, encoder: encoder,
		steps: audiofile.Quantise(s.options.Format.Depth, s.gain, encoder),
	}
	if !f.made {
		f.tape = newTape(s.cache.rate)
	}
	return f, nil
}

// Write measures and writes the next samples.
func (f *trackFile) Write(left, right []float32) error {
	if !f.made {
		_ = f.tape.Write(left, right)
	}
	if err := f.steps.Write(left, right); err != nil {
		return fmt.Errorf("track %d: %w", f.track+1, err)
	}
	return nil
}

// copyTape writes what the tape holds, unless the recording ends before.
func (f *trackFile) copyTape() error {
	left, right := f.tape.left, f.tape.right
	for len(left) > 0 && f.recording.ctx.Err() == nil {
		n := min(blockLength, len(left))
		if err := f.Write(left[:n], right[:n]); err != nil {
			return err
		}
		left, right = left[n:], right[n:]
	}
	return nil
}

// close completes the file, and tells what was measured of it.
func (f *trackFile) close() error {
	s, gain := f.recording, f.recording.decibels()
	level := f.tape.level(gain)
	if err := f.encoder.Close(level); err != nil {
		return fmt.Errorf("track %d: %w", f.track+1, err)
	}
	s.results[f.track] = Result{Frames: f.frames, Loudness: level.Loudness, TruePeak: level.TruePeak, Gain: gain}
	if s.options.Done != nil {
		s.done.Lock()
		defer s.done.Unlock()
		s.options.Done(f.track, s.results[f.track])
	}
	return nil
}
