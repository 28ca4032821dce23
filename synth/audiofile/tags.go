package audiofile

import (
	"encoding/binary"
	"fmt"
	"math"
	"unicode/utf16"
)

// Tags is what a file says about itself beside its samples. What is empty or 0 is not
// said.
type Tags struct {
	Title    string
	Artist   string
	Album    string
	Track    int     // number in the album, from 1
	Tracks   int     // in the album
	Tempo    float64 // quarter notes a minute, where it does not change
	Beats    int     // quarter notes in the file, where it repeats
	Meter    [2]int  // upper and lower number
	Key      string  // tonic and mode: A minor
	KeySign  string  // the same as players of records write it: Am, at most three letters
	Software string
	Comment  string
	Markers  []Marker // in rising order of Frame
	Loop     bool     // the whole file repeats without a seam
}

// Marker labels a place in a file.
type Marker struct {
	Frame int // frames from the start of the file, less than its length
	Label string
}

func (t Tags) check(frames int) error {
	last := 0
	for _, m := range t.Markers {
		if m.Frame < last {
			return fmt.Errorf("marker %q at frame %d comes after one at frame %d", m.Label, m.Frame, last)
		}
		if m.Frame >= frames {
			return fmt.Errorf("marker %q at frame %d is outside the file of %d frames", m.Label, m.Frame, frames)
		}
		last = m.Frame
	}
	return nil
}

// trackNumber returns the number of the track, and how many there are: 3/9.
func (t Tags) trackNumber() string {
	switch {
	case t.Track == 0:
		return ""
	case t.Tracks == 0:
		return fmt.Sprint(t.Track)
	}
	return fmt.Sprintf("%d/%d", t.Track, t.Tracks)
}

// beatsPerMinute returns the tempo to the nearest whole number, as players show it.
func (t Tags) beatsPerMinute() string {
	if t.Tempo == 0 {
		return ""
	}
	return fmt.Sprint(int(math.Round(t.Tempo)))
}

// id3 returns the tags in the form of ID3v2.3.0 (id3.org, informal standard of 1999;
// from memory), which many players read where they read nothing else: frames of text in
// UTF-16, which that version has instead of UTF-8.
func (t Tags) id3() []byte {
	var frames []byte
	for _, frame := range []struct{ id, text string }{
		{"TIT2", t.Title},
		{"TPE1", t.Artist},
		{"TALB", t.Album},
		{"TRCK", t.trackNumber()},
		{"TBPM", t.beatsPerMinute()},
		{"TKEY", t.KeySign},
		{"TSSE", t.Software},
	} {
		if frame.text == "" {
			continue
		}
		const withMark = 1 // UTF-16, its order told by a byte order mark
		text := []byte{withMark, 0xff, 0xfe}
		for _, unit := range utf16.Encode([]rune(frame.text)) {
			text = binary.LittleEndian.AppendUint16(text, unit)
		}
		frames = append(frames, frame.id...)
		frames = binary.BigEndian.AppendUint32(frames, uint32(len(text)))
		frames = append(frames, 0, 0) // flags
		frames = append(frames, text...)
	}
	if frames == nil {
		return nil
	}
	size := len(frames)
	// The size has seven bits a byte, so that it never looks like the beginning of sound.
	head := []byte{'I', 'D', '3', 3, 0, 0, byte(size >> 21 & 127), byte(size >> 14 & 127), byte(size >> 7 & 127), byte(size & 127)}
	return append(head, frames...)
}
