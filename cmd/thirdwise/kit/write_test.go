package kit

import (
	"bytes"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A single is a store of one file.
type single struct{ bytes.Buffer }

func (*single) Close() error { return nil }

func (s *single) Create(string) (io.WriteCloser, error) { return s, nil }

// The hash of "abc" is that of FIPS 180-2, appendix B.1.
func TestAFileIsCountedAndHashedAsItIsWritten(t *testing.T) {
	f, store := File{Name: "abc"}, &single{}
	require.NoError(t, writeFile(t.Context(), store, &f, func(w io.Writer) error { _, err := io.WriteString(w, "abc"); return err }))
	assert.EqualValues(t, 3, f.Bytes)
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", f.SHA256)
	assert.Equal(t, "abc", store.String())
}
