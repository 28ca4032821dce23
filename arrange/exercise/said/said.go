// Package said holds what teachers say for the names that an exercise has: other
// words for its settings and their values, and the known name that is nearest to one
// that is misspelt.
package said

import (
	"strings"

	"thirdwise/theory"
)

// settings is what teachers call settings before they know their names, in the form
// of [Plain]: in English, and in German, French, Spanish and Italian the few that
// every exercise needs.
var settings = map[string]string{
	"name": "title", "song": "title", "heading": "title", "titre": "title", "título": "title", "titulo": "title", "titolo": "title",
	"subheading": "subtitle", "author": "by", "composer": "by", "teacher": "by", "written-by": "by",
	"tonality": "key", "scale": "key", "key-signature": "key", "tonart": "key", "tonalité": "key", "tonalite": "key", "tonalidad": "key", "tonalità": "key",
	"time": "meter", "time-signature": "meter", "metre": "meter", "signature": "meter", "takt": "meter", "taktart": "meter", "mesure": "meter", "compás": "meter", "compas": "meter", "misura": "meter",
	"chords": "chart", "progression": "chart", "changes": "chart", "chord-chart": "chart", "akkorde": "chart", "accords": "chart", "grille": "chart", "acordes": "chart", "accordi": "chart",
	"repeats": "passes", "times": "passes", "loops": "passes", "choruses": "passes", "repetitions": "passes",
	"bpm": "tempos", "speed": "tempos", "speeds": "tempos", "tempi": "tempos",
	"countin": "count-in", "lead-in": "count-in", "precount": "count-in", "pre-count": "count-in",
	"increase": "climb", "speed-up": "climb", "call-and-response": "turns", "trading": "turns",
	"style": "feel", "swing": "feel", "shuffle": "feel", "percussion": "groove", "drums": "groove", "metronome": "click", "strumming": "strum", "pattern": "strum", "strumming-pattern": "strum",
	"picking": "pick", "fingerpicking": "pick", "picking-pattern": "pick", "bassline": "bass", "bass-line": "bass",
	"comment": "note", "comments": "note", "remark": "note", "remarks": "note", "instructions": "note",
	"name-of-the-student": "student", "student-name": "student", "pupil": "student",
	"subdivision": "grid", "compass": "low", "range": "low", "busy": "density",
	"strings": "tuning", "fret": "position", "kapo": "capo",
}

// Setting returns the setting that is meant by another name of it, in the form of
// [Plain], and "" where none is.
func Setting(name string) string { return settings[name] }

// Plain returns a setting's name as exercises have it, whatever its capitals and
// however its words are joined, without the number or the bullet of a list.
func Plain(name string) string {
	name = strings.TrimLeft(name, "0123456789.)•‣◦·– ")
	return strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(name)))
}

// What else is said for values, in lower case.
var (
	Meters = map[string]string{
		"common time": "4/4", "c": "4/4", "𝄴": "4/4", "cut time": "2/2", "alla breve": "2/2", "¢": "2/2", "𝄵": "2/2", "¾": "3/4",
	}
	Feels = map[string]string{
		"straight eighths": "straight", "even": "straight",
		"swung": "swing", "shuffle": "swing", "swing eighths": "swing",
		"swung sixteenths": "swing sixteenths", "swing 16ths": "swing sixteenths", "16th swing": "swing sixteenths", "sixteenth swing": "swing sixteenths",
	}
	// British names of notes, and fractions, too (common practice).
	Grids = map[string]string{
		"crotchets": "quarters", "quarter": "quarters", "quarter notes": "quarters", "1/4": "quarters", "4ths": "quarters", "4": "quarters",
		"quavers": "eighths", "eighth": "eighths", "eighth notes": "eighths", "8th notes": "eighths", "1/8": "eighths", "8ths": "eighths", "8": "eighths",
		"triplet": "triplets", "eighth triplets": "triplets", "eighth-note triplets": "triplets", "quaver triplets": "triplets",
		"semiquavers": "sixteenths", "sixteenth": "sixteenths", "sixteenth notes": "sixteenths", "16th notes": "sixteenths", "1/16": "sixteenths", "16ths": "sixteenths", "16": "sixteenths",
	}
	Basses = map[string]string{
		"no": "none", "root fifth": "root-fifth", "root and fifth": "root-fifth", "root-five": "root-fifth", "walking bass": "walking",
	}
)

// Nearest returns the known names with the smallest edit distance, none where more
// than a third of the longer of the two would have to change, and not just one letter.
func Nearest(name string, names []string) (nearest []string) {
	const longest = 40
	if len(name) > longest {
		return nil
	}
	least := longest
	for _, n := range names {
		edits := theory.Edits(strings.ToLower(name), n)
		switch {
		case edits > max(1, max(len(name), len(n))/3), edits > least:
			continue
		case edits < least:
			nearest, least = nil, edits
		}
		nearest = append(nearest, n)
	}
	return nearest
}
