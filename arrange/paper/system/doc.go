// Package system draws music in systems: a row of measures on a staff and the
// tablature below it, with chord symbols, sections, endings and bar numbers.
//
// In goes a [paper.Notation]. [Of] works out how much room its measures ask for,
// [Music.Break] divides them into rows, and [Music.Set] draws one. Lengths are
// in staff spaces, y down. Where a row stands on a page is left to package
// sheet.
//
// Where signs stand, and how thick and long they are, follows Elaine Gould,
// Behind Bars (Faber 2011), and Ted Ross, The Art of Music Engraving and
// Processing (1970), from memory.
//
// Each third is a group, so that a program that shows the SVG can light it up.
// Its id is third-1, third-2 and so on along the score's line. Its attributes
// data-bar is the number of its bar on the page; data-tick and data-pass say at
// which ticks (from the first bar) and in which passes (from 1) it is played:
// several of each, with spaces between, where a repeat plays it again.
// data-third is the number that its id has and data-role its role; a third that
// is written as several tied notes is as many groups, of which the first alone
// has the id.
package system
