// Package synth makes sound: in goes a performance, out come the samples of its
// mixes, written as WAV or FLAC.
//
// The samples of a note come from package pluck. They are made once for a whole kit
// and kept (see cache). Each part of a performance is added up from them, block by
// block (see roll), and package desk sets the parts of each mix in the stereo image and
// in a short room. What accompanies the guide is the same in all positions of a key, and
// package backings keeps it for the next (see backing). [Render] runs all tracks of a kit
// at one common gain, which package loudness has measured, and package audiofile writes
// their files.
//
// What is played when is decided in package arrange; which files a kit holds, in
// the program.
package synth
