package kit

import (
	"encoding/json"
	"io"
)

// Software is the program's name and version, as kit.json and the tags of audio
// files give it.
const Software = "thirdwise 0.1.0"

// ManifestName is the file that describes a kit for programs.
const ManifestName = "kit.json"

// A Manifest is what kit.json holds. Nothing in it depends on when and where
// the kit was made.
type Manifest struct {
	Software string `json:"software"`
	Exercise string `json:"exercise,omitempty"` // name of the file that the kit was made of
	Source   string `json:"source"`             // a hash of all that the kit is made of
	Description
	Files []File `json:"files"`
}

// A File is one file of a kit.
type File struct {
	Name    string  `json:"name"`
	Kind    Kind    `json:"kind"`
	Tempo   int     `json:"tempo,omitempty"`   // beats a minute
	Climb   bool    `json:"climb,omitempty"`   // goes through all tempos instead
	Mix     string  `json:"mix,omitempty"`     // of audio
	Seconds float64 `json:"seconds,omitempty"` // from the count-in to the end of what rings on; in MIDI, of the last bar
	Bytes   int64   `json:"bytes"`
	SHA256  string  `json:"sha256"` // lower-case hexadecimal
	*Sound
}

// A Kind says what a file is.
type Kind string

// The kinds of files.
const (
	KindAudio         Kind = "audio"          // WAV or FLAC
	KindPerformance   Kind = "performance"    // MIDI, as it is played at a tempo
	KindChordCaptions Kind = "chord-captions" // WebVTT, a cue a chord
	KindTabCaptions   Kind = "tab-captions"   // WebVTT, a cue a bar
	KindScore         Kind = "score"          // MIDI, as it is written
	KindNotation      Kind = "notation"       // MusicXML
	KindTab           Kind = "tab"            // text
	KindSheet         Kind = "sheet"          // PDF or SVG
	KindChordChart    Kind = "chord-chart"    // PDF, the chords alone
	KindFillIn        Kind = "fill-in-sheet"  // PDF, arrivals with empty staves
	KindPage          Kind = "page"           // HTML, to practise with
)

// A Sound is what an audio file holds. A file of silence has no levels.
type Sound struct {
	Rate     int      `json:"rate"`               // Hz
	Depth    int      `json:"depth"`              // bits a sample
	Loudness *float64 `json:"loudness,omitempty"` // LUFS, integrated
	TruePeak *float64 `json:"truePeak,omitempty"` // dBTP
}

// WriteJSON writes a value as JSON that people can read too.
func WriteJSON(w io.Writer, value any) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(value)
}
