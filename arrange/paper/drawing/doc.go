// Package drawing is pages of lines, outlines, signs and words, sized in staff
// spaces: what a sheet of music is once it is set. [WriteSVG] and [WritePDF]
// write the pages down and decide nothing, so both show the same.
//
// The signs of notation are outlines of our own drawing. The letters are the Go
// fonts, which are embedded as far as they are used. What is set where is the
// business of packages system and sheet.
package drawing
