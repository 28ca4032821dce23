// Package neckmap writes a key as it lies on a neck: as a diagram of the neck and
// as tables of its thirds and of the positions that suit it.
//
// In goes a [Map], which needs no score. Where the thirds lie is worked out by
// package neck.
package neckmap
