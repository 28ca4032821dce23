// Package audiofile writes samples to files: WAV and FLAC, with tags and places that
// are marked.
//
// In go the samples of a track, block by block, full scale ±1; [Quantise] makes them
// whole steps of the file's depth, and an [Encoder] writes these to an [io.Writer].
// What the samples are is decided elsewhere.
package audiofile
