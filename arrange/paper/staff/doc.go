// Package staff draws the measures of a line on a staff of five lines: heads,
// accidentals, dots, ledger lines, stems, flags, beams, ties, tuplets and rests,
// and at the left end clef, key and time signature.
//
// In goes a [paper.Measure]. [Of] says how its events look and how much room each
// asks for, wherever in the row they stand; once package system has given each
// its place, the methods of [Measure] draw them. Lengths are in staff spaces, y
// down, from the staff's top line.
//
// Where signs stand, and how thick and long they are, follows Elaine Gould,
// Behind Bars (Faber 2011), and Ted Ross, The Art of Music Engraving and
// Processing (1970), from memory.
package staff
