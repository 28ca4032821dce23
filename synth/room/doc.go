// Package room is the sound of a small furnished room around what is played: in goes a
// sound, out comes what its walls answer to either side.
package room
