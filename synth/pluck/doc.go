// Package pluck makes the sound of one note: in goes what is played, out come its
// samples.
//
// A note is a string's sum of modes. Each mode is a decaying sinusoid whose
// frequency, loss and strength follow from the string, the fret, the place and
// width of the plectrum, and the body of the guitar that the string drives (see
// string, voice and body). A click is a few modes of a wooden bar, and soft percussion
// is noise (see rustle).
//
// When a note is played and how loud, and what else sounds, is decided elsewhere.
package pluck
