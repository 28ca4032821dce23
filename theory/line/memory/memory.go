// Package memory remembers what was found at some cost, by a description of all that it
// depends on.
package memory

import (
	"encoding/binary"
	"strconv"
)

// A Memory remembers things that were found. The zero value remembers nothing. It is
// not to be used by several goroutines at once.
type Memory[T any] struct {
	known, older map[string]T
}

// Age forgets what has not been asked for since the last time it was called.
func (m *Memory[T]) Age() { m.known, m.older = nil, m.known }

// Recall returns what is known by a description, and otherwise what find finds.
func (m *Memory[T]) Recall(by Description, find func() T) T {
	found, ok := m.known[string(by)]
	if !ok {
		found, ok = m.older[string(by)]
	}
	if !ok {
		found = find()
	}
	if m.known == nil {
		m.known = map[string]T{}
	}
	m.known[string(by)] = found
	return found
}

// A Description is numbers and facts, one after the other. Two are the same only if all
// that was written down is, provided that it tells of every list how long it is.
type Description []byte

// Numbers writes numbers down.
func (d *Description) Numbers(numbers ...int) {
	for _, n := range numbers {
		*d = binary.AppendVarint(*d, int64(n))
	}
}

// Facts writes down what is so and what is not.
func (d *Description) Facts(facts ...bool) {
	for _, so := range facts {
		*d = strconv.AppendBool(*d, so)
	}
}
