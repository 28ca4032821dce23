// Package chart reads the chart of an exercise: chords in bars, repeats, sections.
//
// In goes a [source.Text], with a key for numerals and a meter for the length of a
// bar; out come the bars as they are written ([Read]) and the order in which they
// are played ([Unfold]). What is wrong is said to the text.
//
// A chart is read in two steps. A scanner (scan.go) divides the text into signs:
// bar lines with or without repeat dots, section names, and words. It knows
// nothing of what may follow what.
//
//	[Verse] |: C   Am  | F  /  G  :|   x3
//	section bar words bar words  bar  word
//
// The reader (read.go) takes one sign after the other. It is always in one of two
// states: between bars, where a section name, a repeat count or a bar line may
// stand, or in a bar, where words gather until the next bar line closes it. The
// first bar line of a chart may be left out, since nothing is lost with it; the
// last may not, since a chart without it was probably cut off. A line may end with
// a bar line and the next one begin with another: both are the same.
//
// A closed bar's words become chords with equal shares of its ticks (shares.go).
package chart
