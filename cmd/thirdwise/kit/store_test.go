package kit_test

import (
	"bytes"
	"io"
)

// A memory is a store of files in memory, which are written from their beginning
// to their end.
type memory map[string]*bytes.Buffer

type memoryFile struct{ *bytes.Buffer }

func (memoryFile) Close() error { return nil }

func (m memory) Create(name string) (io.WriteCloser, error) {
	m[name] = &bytes.Buffer{}
	return memoryFile{m[name]}, nil
}
