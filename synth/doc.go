// Package synth makes sound: in goes a performance from package arrange, out
// come the samples of its mixes, written as WAV or FLAC.
//
// A note is a string's sum of modes. Each mode is a decaying sinusoid whose
// frequency, loss and strength follow from the string, the fret, the place and
// width of the plectrum, and the body of the guitar that the string drives (see
// voice and body). A click is a few modes of a wooden bar.
//
// The samples of a note are made once for a whole kit and kept (see stock). Each
// part of a performance is added up from them, block by block (see roll), and
// each mix sets its parts in the stereo image and in a short room (see desk).
// [Render] runs all tracks of a kit at one common gain.
//
// What is played when is decided in package arrange; which files a kit holds, in
// the program.
package synth
