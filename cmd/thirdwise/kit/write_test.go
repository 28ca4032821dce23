package kit

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
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

// A folder is a store of files on the disk, whose writers can go back.
type folder string

func (f folder) Create(name string) (io.WriteCloser, error) {
	return os.Create(filepath.Join(string(f), name))
}

// errStuck is what a file says that cannot be read again.
var errStuck = errors.New("stuck")

// A stuck is a file whose beginning cannot be gone back to, or not be read.
type stuck struct {
	io.ReadSeeker
	back bool
}

func (s stuck) Seek(offset int64, whence int) (int64, error) {
	if !s.back {
		return 0, errStuck
	}
	return s.ReadSeeker.Seek(offset, whence)
}

func (s stuck) Read([]byte) (int, error) { return 0, errStuck }

// Where a writer goes back, as FLAC's does to fill in its header, the file is hashed as
// it is in the end; what cannot be read again is an error. The hash is that of FIPS
// 180-2, appendix B.1.
func TestAFileThatIsChangedIsHashedInTheEnd(t *testing.T) {
	file, err := create(folder(t.TempDir()), "abc")
	require.NoError(t, err)
	defer file.Close()
	out, ok := file.out().(io.WriteSeeker)
	require.True(t, ok, "its writer may go back")
	_, err = io.WriteString(out, "xbc")
	require.NoError(t, err)
	_, err = out.Seek(0, io.SeekStart)
	require.NoError(t, err)
	_, err = io.WriteString(out, "a")
	require.NoError(t, err)
	var f File
	require.NoError(t, file.measure(&f))
	assert.EqualValues(t, 3, f.Bytes)
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", f.SHA256)

	for _, back := range []bool{false, true} {
		file.changed = stuck{file.WriteCloser.(*os.File), back}
		assert.ErrorIs(t, file.measure(&f), errStuck)
	}
	plain, err := create(&single{}, "abc")
	require.NoError(t, err)
	_, ok = plain.out().(io.Seeker)
	assert.False(t, ok, "a writer cannot go back in a store that only takes")
}
