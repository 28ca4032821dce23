// Package sheet sets a score as a printed sheet: its title and what a player
// must know, the grips of its chords, standard notation above tablature, and a
// map of the key's thirds.
//
// In goes a [paper.Notation]; [Lay] sets it on the pages of a [drawing.Sheet],
// which package drawing writes as SVG and PDF. Package system draws the rows of
// music; here is what stands around them, and where they stand.
package sheet
