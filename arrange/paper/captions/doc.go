// Package captions writes WebVTT captions for the audio of a performance, so that
// a video or a player shows what is being played: the chords, or the tab.
//
// In go the [paper.Notation] of a score and a [score.Performance] of it.
package captions
