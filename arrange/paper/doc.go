// Package paper puts a score on paper.
//
// In goes a [score.Score]. [Notate] works out how its line is written:
// measures with their repeats, note values, dots, ties, tuplets, beams, rests
// and accidentals. Every output reads the same [Notation], so they agree note
// for note: package tab writes a text tab, package captions the same bar by bar
// for the audio, package sheet sets the printed sheet, and package musicxml writes
// the file for notation editors.
//
// The rules of notation are those of Elaine Gould, Behind Bars (Faber 2011), from
// memory. What is played, and where on the neck, is decided before: see package
// arrange.
package paper
