// Package kittest has what the tests of several rooms need to look into a kit.
package kittest

import (
	"bytes"
	"io"
	"sync"
)

// A Memory is a kit.Store in memory; its zero value is empty. Its files are
// written from their beginning to their end.
type Memory struct {
	creating sync.Mutex
	files    map[string]*bytes.Buffer
}

// Create begins a file, in the place of one of the same name.
func (m *Memory) Create(name string) (io.WriteCloser, error) {
	m.creating.Lock()
	defer m.creating.Unlock()
	if m.files == nil {
		m.files = map[string]*bytes.Buffer{}
	}
	m.files[name] = new(bytes.Buffer)
	return file{m.files[name]}, nil
}

// A file is written only: a buffer that could also be read would look like one
// that can be completed after its end.
type file struct{ io.Writer }

func (file) Close() error { return nil }

// Bytes are what a file holds, nothing where there is no such file. It wants all
// writing done.
func (m *Memory) Bytes(name string) []byte {
	if f := m.files[name]; f != nil {
		return f.Bytes()
	}
	return nil
}

// Len is how many files there are.
func (m *Memory) Len() int { return len(m.files) }
