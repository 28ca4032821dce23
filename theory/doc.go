// Package theory knows the notes: pitches and intervals as they are spelled,
// scales and keys, chords, and the third on every degree of a scale.
//
// Everything here is spelled. A [Tone] is a letter with its alterations, a
// [Pitch] is a tone in an octave, and an [Interval] counts letters as well as
// semitones; so the third above E in C major is G and never F double sharp.
// Numbers that sound, MIDI keys and frequencies, are made at the very end by
// [Pitch.MIDI] and [Pitch.Frequency].
//
// The package is pure: no files, no clock, no randomness. The scale over a chord is found
// by package chordscale, Roman numerals by package numeral, the line of thirds that joins
// the chords of a chart by package line; where a note lies on a guitar is the business of
// package neck; what is played when, that of package arrange.
package theory
