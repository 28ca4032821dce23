package course_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/kit"
)

// files are those of a kit, as the teller is told of them.
var files = []kit.File{
	{Name: "hum-060-full.wav", Kind: kit.KindAudio, Bytes: 3e6}, {Name: "hum-060-guide.wav", Kind: kit.KindAudio, Bytes: 2e6},
	{Name: "hum.pdf", Kind: kit.KindSheet}, {Name: "hum.svg", Kind: kit.KindSheet},
}

// told returns what a teller prints of what was made of each of as many kits.
func told(terminal bool, all ...course.Made) (stdout, stderr string, err error) {
	var out, complaints bytes.Buffer
	t := &course.Teller{Out: &out, Complaints: &complaints, Terminal: terminal}
	for range all {
		t.Kits = append(t.Kits, course.Kit{Folder: "kits/hum"})
	}
	for i, m := range all {
		t.Progress(i)(1, 4)
		t.Tell(i, m)
	}
	err = t.End()
	return out.String(), complaints.String(), err
}

// asSeen returns what stands on a terminal in the end.
func asSeen(text string) string {
	var lines []string
	for _, line := range strings.Split(text, "\n") {
		seen := []rune{}
		for _, over := range strings.Split(line, "\r") {
			typed := []rune(over)
			seen = append(typed, seen[min(len(typed), len(seen)):]...)
		}
		lines = append(lines, strings.TrimRight(string(seen), " "))
	}
	return strings.Join(lines, "\n")
}

func TestTheLastLineOnATerminalSaysWhatToPlayAndPrint(t *testing.T) {
	out, _, err := told(true, course.Made{Files: files})
	require.NoError(t, err)
	assert.Equal(t, "kits/hum: 4 files, 5.0 MB\nplay kits/hum/hum-060-full.wav; print kits/hum/hum.pdf\n", asSeen(out))
	assert.NotContains(t, out, "\x1b", "old consoles print control sequences")
	out, _, err = told(false, course.Made{Files: files})
	require.NoError(t, err)
	assert.Equal(t, "kits/hum/hum-060-full.wav\nkits/hum/hum-060-guide.wav\nkits/hum/hum.pdf\nkits/hum/hum.svg\n", out, "programs read a list of files")
}

func TestManyKitsAreSummedUp(t *testing.T) {
	out, complaints, err := told(true, course.Made{Files: files}, course.Made{Files: files, Unchanged: true}, course.Made{Err: errors.New("the disk is full")})
	assert.Equal(t, "play kits/hum/hum-060-full.wav; print kits/hum/hum.pdf\n", asSeen(out))
	assert.Contains(t, out, "2 of 3 kits, about ")
	assert.Equal(t, "thirdwise: the disk is full\n1 kit made, 1 unchanged\n", complaints)
	assert.EqualError(t, err, "not made: kits/hum")
}
