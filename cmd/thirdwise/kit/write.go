package kit

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"hash"
	"io"
	"sync"

	"thirdwise/arrange/paper"
)

// A Store takes the files of a kit, several at the same time. A file that is also
// an [io.Seeker] and an [io.Reader] is completed where its format wants that, such
// as with the checksum in the header of a FLAC file.
type Store interface {
	Create(name string) (io.WriteCloser, error)
}

// Write writes the kit's files into a store and returns them: the audio while the
// rest is written, and the description last. Progress is told how many of all
// files are complete; never of two at once.
func (k Kit) Write(ctx context.Context, into Store, progress func(done, all int)) ([]File, error) {
	outputs := k.outputs(paper.Notate(k.Score))
	done := 0
	var counting sync.Mutex
	count := func() {
		counting.Lock()
		defer counting.Unlock()
		done++
		progress(done, len(outputs)+1)
	}
	if k.Page != nil {
		outputs = append(outputs, output{File: File{Name: k.Name + ".html", Kind: KindPage}})
	}
	if err := k.writeAll(ctx, into, outputs, count); err != nil {
		return nil, err
	}
	m := Manifest{Software: Software, Exercise: k.file(), Source: k.source(), Description: Describe(k.Score)}
	for _, o := range outputs {
		m.Files = append(m.Files, o.File)
	}
	manifest := File{Name: ManifestName}
	if err := writeFile(ctx, into, &manifest, func(w io.Writer) error { return WriteJSON(w, m) }); err != nil {
		return nil, err
	}
	count()
	return append(m.Files, manifest), nil
}

// writeAll writes the outputs, and returns once nothing writes any more. Each that
// is complete is counted. A page is the last of them: it is as loud as the audio, so that
// it waits until that is known.
func (k Kit) writeAll(ctx context.Context, into Store, outputs []output, count func()) error {
	ctx, cancel := context.WithCancel(ctx)
	var audio sync.WaitGroup
	defer audio.Wait()
	defer cancel()
	gains := make(chan float64, 1)
	var err error
	audio.Go(func() {
		defer close(gains)
		err = k.writeAudio(ctx, into, outputs, func(gain float64) { gains <- gain }, count)
	})
	for i := range outputs {
		o := &outputs[i]
		if o.write == nil {
			continue
		}
		if err := writeFile(ctx, into, &o.File, o.write); err != nil {
			return err
		}
		o.write = nil // it may hold a sheet, which is large
		count()
	}
	if gain, known := <-gains; known && k.Page != nil {
		page := &outputs[len(outputs)-1]
		if err := writeFile(ctx, into, &page.File, func(w io.Writer) error { return k.Page.WriteKit(w, k, gain) }); err != nil {
			return err
		}
		count()
	}
	audio.Wait()
	return err
}

// writeFile creates a file and has it written. It fills in how many bytes it has,
// and their hash.
func writeFile(ctx context.Context, into Store, f *File, write func(io.Writer) error) error {
	file, err := create(into, f.Name)
	if err != nil {
		return err
	}
	buffer := bufio.NewWriter(writer{ctx, file})
	err = write(buffer)
	if err == nil {
		err = buffer.Flush()
	}
	if err == nil {
		err = file.measure(f)
	}
	return errors.Join(err, file.Close())
}

// A writer writes until its context ends.
type writer struct {
	ctx context.Context
	io.Writer
}

func (w writer) Write(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.Writer.Write(p)
}

// A measuredFile is a file that is counted and hashed as it is written, so that
// it need not be read again.
type measuredFile struct {
	io.WriteCloser
	sum     hash.Hash
	bytes   int64
	changed io.ReadSeeker // the file, once a writer went back to change what it wrote
}

// A seekableFile is one whose writer may go back.
type seekableFile struct {
	*measuredFile
	file io.ReadSeeker
}

func create(into Store, name string) (*measuredFile, error) {
	file, err := into.Create(name)
	return &measuredFile{WriteCloser: file, sum: sha256.New()}, err
}

// out returns what a track is written to.
func (m *measuredFile) out() io.Writer {
	if file, ok := m.WriteCloser.(io.ReadSeeker); ok {
		return seekableFile{m, file}
	}
	return m
}

// Write writes to the file.
func (m *measuredFile) Write(p []byte) (int, error) {
	n, err := m.WriteCloser.Write(p)
	m.sum.Write(p[:n])
	m.bytes += int64(n)
	return n, err
}

// Seek moves to another place of the file.
func (s seekableFile) Seek(offset int64, whence int) (int64, error) {
	s.changed = s.file
	return s.file.Seek(offset, whence)
}

// measure fills in how many bytes the file has, and their hash. One that was
// changed is read for it.
func (m *measuredFile) measure(f *File) error {
	if m.changed != nil {
		if _, err := m.changed.Seek(0, io.SeekStart); err != nil {
			return err
		}
		m.sum.Reset()
		n, err := io.Copy(m.sum, m.changed)
		if err != nil {
			return err
		}
		m.bytes = n
	}
	f.Bytes, f.SHA256 = m.bytes, hex.EncodeToString(m.sum.Sum(nil))
	return nil
}
