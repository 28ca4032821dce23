package audiofile

import (
	"fmt"
	"io"
)

// memoryFile is a file in memory that can be written anywhere.
type memoryFile struct {
	bytes []byte
	at    int
}

func (m *memoryFile) Write(p []byte) (int, error) {
	if grow := m.at + len(p) - len(m.bytes); grow > 0 {
		m.bytes = append(m.bytes, make([]byte, grow)...)
	}
	copy(m.bytes[m.at:], p)
	m.at += len(p)
	return len(p), nil
}

func (m *memoryFile) Seek(offset int64, whence int) (int64, error) {
	switch whence {
	case io.SeekCurrent:
		offset += int64(m.at)
	case io.SeekEnd:
		offset += int64(len(m.bytes))
	}
	if offset < 0 {
		return 0, fmt.Errorf("seek to %d", offset)
	}
	m.at = int(offset)
	return offset, nil
}
