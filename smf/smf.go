// Package smf writes a score as a Standard MIDI File.
//
// There are two kinds of file. [Write] makes the one for notation editors: the
// chart once, in straight written rhythm, bar one at tick zero, strums as block
// chords. [WritePerformance] makes the one that plays: count-in, every pass,
// strums spread over their strings, swing, each note on the tick from which the
// audio of the same performance is timed.
//
// Both are of format 1 with a division of 480 ticks to the quarter note. The
// first track has the title, tempo, time and key signature, the sections as
// markers and the chord symbols as text events; in the one that plays, the
// count-in and each bar are markers as well. Then each part has a track under
// its own name: Chords, Guide and, where one plays, Bass; the one that plays
// has a Click and, where there is one, a Groove too. There a track also says
// how loud its part is (controller 7), where it sits (controller 10) and how it
// fades at the end (controller 11), so that a General MIDI player has about the
// balance of the audio.
//
// Channel and key are all that names a note in MIDI, so two strings that sound
// the same key cannot be told apart. Struck at one tick they are one note, as
// long as the longer and as loud as the louder. Struck one after the other, the
// first ends where the second begins, and the second lasts as long as either
// string sounds: every stroke is heard, no sound is cut and no key hangs.
package smf

import (
	"fmt"
	"io"

	"gitlab.com/gomidi/midi/v2"
	midifile "gitlab.com/gomidi/midi/v2/smf"

	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// Channels as messages count them, from 0; people count from 1.
const (
	chordsChannel = 0
	guideChannel  = 1
	bassChannel   = 2
	clickChannel  = 9 // percussion in General MIDI level 1, "channel 10"
)

// Programs and percussion keys of General MIDI level 1. Programs are counted
// from 0, as messages do; the standard's tables print them one higher.
const (
	nylonGuitar   = 24
	steelGuitar   = 25
	fingeredBass  = 33
	highWoodBlock = 76
	lowWoodBlock  = 77
	maracas       = 70
	acousticSnare = 38
	electricSnare = 40
)

// brushSet is the program of General MIDI level 2 for channel 10 whose two snares are
// brushes: 38 taps and 40 sweeps. A player of level 1 leaves it out, and has snares.
const brushSet = 40

// In the written file each part has one velocity. The chords stay behind the
// line, as they do when played.
const (
	chordsVelocity = 72
	guideVelocity  = 96
	bassVelocity   = 84
)

// strokeLength is how long a stroke of the click holds its key as it is played:
// a sixteenth, shorter than any two strokes are apart. Wood does not ring.
const strokeLength = meter.Quarter / 4

// Write writes the file for notation editors. It has the chart once with its
// repeats written out and no count-in; notes of a part do not overlap, their
// lengths are the written ones, and every track ends on the last bar line. The
// tempo is the exercise's first, at which it begins. There is no click: an editor
// would make a staff of it. Each chord symbol stands as a text and as a marker, for
// editors import one or the other.
func Write(w io.Writer, s *score.Score) error {
	first := signatures(s)
	first.add(0, tempo(s.Meter.QuarterMicros(s.Tempos[0])))
	for i := range s.Bars {
		if bar := &s.Bars[i]; bar.Section != "" {
			first.add(bar.Tick, midifile.MetaMarker(bar.Section))
		}
		first.addSymbols(&s.Bars[i], s.Bars[i].Tick)
		for _, span := range s.Bars[i].Chords {
			first.add(span.Tick, midifile.MetaMarker(theory.ASCII(span.Symbol())))
		}
	}
	tracks := []*track{first, writtenChords(s), writtenGuide(s)}
	if len(s.Bass) > 0 {
		tracks = append(tracks, writtenBass(s))
	}
	for _, t := range tracks {
		t.end = s.Length()
	}
	if err := write(w, meter.Quarter, tracks); err != nil {
		return fmt.Errorf("the MIDI file of %q: %w", s.Title, err)
	}
	return nil
}

// WritePerformance writes a performance of the score. A tick of the file is a
// tick of the performance; the file's tempo changes are the performance's own,
// so that both agree to the sample at any length. Tracks end where the
// performance does, or with their last note if that rings on.
func WritePerformance(w io.Writer, s *score.Score, p *score.Performance) error {
	first := signatures(s)
	for _, change := range p.Tempos {
		first.add(change.Tick, tempo(change.QuarterMicros))
	}
	for _, tick := range p.CountIns {
		first.add(tick, midifile.MetaMarker("count-in"))
	}
	for _, played := range p.Bars {
		first.add(played.Tick, midifile.MetaMarker(s.Mark(played)))
		first.addSymbols(&s.Bars[played.Index], played.Tick)
	}
	click := newTrack("Click", clickChannel)
	for _, stroke := range p.Click {
		end := stroke.Tick + strokeLength
		click.notes = append(click.notes, note{stroke.Tick, end, woodBlock(stroke.Accent), stroke.Velocity})
	}
	chords, guide, bass := newChords(), newGuide(), newBass()
	for _, n := range p.Notes {
		played := note{n.Tick, n.Tick + n.Length, n.Pitch.MIDI(), n.Velocity}
		switch n.Part {
		case score.Chords:
			chords.notes = append(chords.notes, played)
		case score.GuideUpper, score.GuideLower:
			guide.notes = append(guide.notes, played)
		case score.Bass:
			bass.notes = append(bass.notes, played)
		}
	}
	groove := playedGroove(p)
	tracks := []*track{first, click, chords, guide}
	if len(bass.notes) > 0 {
		tracks = append(tracks, bass)
	}
	if len(groove.notes) > 0 {
		tracks = append(tracks, groove)
	}
	for _, t := range tracks {
		t.end = max(p.Length, p.End)
	}
	click.balance(clickBalance)
	chords.balance(chordsBalance)
	guide.balance(guideBalance)
	bass.balance(bassBalance)
	for _, t := range []*track{chords, guide, bass} {
		t.fade(p)
	}
	if err := write(w, meter.Quarter, tracks); err != nil {
		return fmt.Errorf("the MIDI file of %q as it is played: %w", s.Title, err)
	}
	return nil
}

// signatures begins the first track.
func signatures(s *score.Score) *track {
	t := &track{}
	t.add(0, midifile.MetaTrackSequenceName(s.Title))
	t.add(0, timeSignature(s.Meter))
	sharps, flats := max(s.Key.Fifths(), 0), max(-s.Key.Fifths(), 0)
	t.add(0, midifile.MetaKey(uint8(s.Key.Tonic.Class()), !s.Key.MinorThird(), uint8(sharps+flats), flats > 0))
	return t
}

// timeSignature says the meter and how many MIDI clocks, 24 to the quarter
// note, a beat has: 24 in 4/4, 36 in 6/8, 48 in 2/2. The last number is the
// thirty-second notes in a quarter.
func timeSignature(m meter.Meter) midifile.Message {
	return midifile.MetaTimeSig(uint8(m.Beats), uint8(m.Unit), uint8(24*m.Beat()/meter.Quarter), 8)
}

func tempo(quarterMicros int) midifile.Message {
	return midifile.MetaTempo(60e6 / float64(quarterMicros))
}

// addSymbols adds the symbols of a bar's chords, its first beat standing at a tick.
// They are spelled with # and b: the standard promises no more than ASCII in texts.
func (t *track) addSymbols(bar *score.Bar, tick int) {
	for _, span := range bar.Chords {
		t.add(tick+span.Tick-bar.Tick, midifile.MetaText(theory.ASCII(span.Symbol())))
	}
}

// playedGroove is the track of the groove. Its channel is the click's, which sets the
// volume of both.
func playedGroove(p *score.Performance) *track {
	t := newTrack("Groove", clickChannel)
	for i, stroke := range p.Percussion {
		if i == 0 && stroke.Sound.Instrument() == "brush" {
			t.add(0, midifile.Message(midi.ProgramChange(clickChannel, brushSet)))
		}
		t.notes = append(t.notes, note{stroke.Tick, stroke.Tick + strokeLength, percussionKey(stroke.Sound), grooveVelocity(stroke)})
	}
	return t
}

func percussionKey(p score.Percussion) int {
	switch p {
	case score.Sweep:
		return electricSnare
	case score.Tap:
		return acousticSnare
	}
	return maracas
}

func woodBlock(accent bool) (key int) {
	if accent {
		return highWoodBlock
	}
	return lowWoodBlock
}

func writtenChords(s *score.Score) *track {
	t := newChords()
	for _, strum := range s.Strums {
		for _, n := range strum.Notes {
			t.notes = append(t.notes, note{strum.Tick, strum.Tick + strum.Length, n.Pitch.MIDI(), chordsVelocity})
		}
	}
	return t
}

func writtenGuide(s *score.Score) *track {
	t := newGuide()
	for _, third := range s.Line {
		end := third.Tick + third.Length
		t.notes = append(t.notes,
			note{third.Tick, end, third.Notes.Lower.MIDI(), guideVelocity},
			note{third.Tick, end, third.Notes.Upper.MIDI(), guideVelocity})
	}
	return t
}

func writtenBass(s *score.Score) *track {
	t := newBass()
	for _, n := range s.Bass {
		t.notes = append(t.notes, note{n.Tick, n.Tick + n.Length, n.Pitch.MIDI(), bassVelocity})
	}
	return t
}

func newChords() *track { return newInstrument("Chords", chordsChannel, steelGuitar) }
func newGuide() *track  { return newInstrument("Guide", guideChannel, nylonGuitar) }
func newBass() *track   { return newInstrument("Bass", bassChannel, fingeredBass) }

func newTrack(name string, channel uint8) *track {
	t := &track{channel: channel}
	t.add(0, midifile.MetaTrackSequenceName(name))
	return t
}

func newInstrument(name string, channel, program uint8) *track {
	t := newTrack(name, channel)
	t.add(0, midifile.Message(midi.ProgramChange(channel, program)))
	return t
}
