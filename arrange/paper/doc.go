// Package paper puts a score on paper: the written notation, and from it the
// printed sheet.
//
// In goes an [arrange.Score]. [Notate] works out how it is written: measures
// with their repeats, note values, dots, ties, tuplets, beams, rests and
// accidentals. [Lay] sets that on pages as a list of lines, curves, outlines
// and words, sized in staff spaces, and [WriteSVG] and [WritePDF] write the
// pages down. Every output of this package reads the same [Notation], so they
// agree note for note.
//
// The rules of notation are those of Elaine Gould, Behind Bars (Faber 2011),
// and Ted Ross, The Art of Music Engraving and Processing (1970), from memory.
// What is played, and where on the neck, is decided before: see package
// arrange.
package paper
