// Package sheet sets a score as a printed sheet: standard notation above
// tablature, with the grips of its chords and a map of the key's thirds.
//
// In goes an [arrange.Score]. [Lay] sets its [paper.Notation] on pages, as a
// list of lines, outlines, signs and words sized in staff spaces; [WriteSVG]
// and [WritePDF] only write down what is there, so both show the same.
//
// Where signs stand, and how thick and long they are, follows Elaine Gould,
// Behind Bars (Faber 2011), and Ted Ross, The Art of Music Engraving and
// Processing (1970), from memory. The signs themselves are of our own drawing;
// the letters are the Go fonts.
package sheet
