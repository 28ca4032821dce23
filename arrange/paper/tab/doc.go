// Package tab writes a notation as a text tab, for a fixed-width font: chord
// symbols and section names above the strings, beats below, each third as two
// frets one above the other.
//
// In goes a [paper.Notation]. [Write] writes the whole tab; [Bars] returns it bar
// by bar, as captions show it.
package tab
