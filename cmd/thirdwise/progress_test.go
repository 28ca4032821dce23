package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise"
	"thirdwise/cmd/thirdwise/kit"
)

// files are those of a kit, as the teller is told of them.
var files = []kit.File{
	{Name: "hum-060-full.wav", Kind: kit.KindAudio, Bytes: 3e6}, {Name: "hum-060-guide.wav", Kind: kit.KindAudio, Bytes: 2e6},
	{Name: "hum.pdf", Kind: kit.KindSheet}, {Name: "hum.svg", Kind: kit.KindSheet},
}

// told returns what a teller prints of what was made of each of as many jobs.
func told(terminal bool, all ...made) (stdout, stderr string, err error) {
	var out, complaints bytes.Buffer
	t := &teller{con: &console{stdout: &output{Writer: &out}, stderr: &complaints, terminal: terminal}, output: "kits"}
	for range all {
		t.jobs = append(t.jobs, job{variant: variant{Exercise: &exercise.Exercise{}}, name: "hum"})
	}
	for i, m := range all {
		t.progress(t.jobs[i])(1, 4)
		t.tell(i, m)
	}
	err = t.end()
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
	out, _, err := told(true, made{files: files})
	require.NoError(t, err)
	assert.Equal(t, "kits/hum: 4 files, 5.0 MB\nplay kits/hum/hum-060-full.wav; print kits/hum/hum.pdf\n", asSeen(out))
	assert.NotContains(t, out, "\x1b", "old consoles print control sequences")
	out, _, err = told(false, made{files: files})
	require.NoError(t, err)
	assert.Equal(t, "kits/hum/hum-060-full.wav\nkits/hum/hum-060-guide.wav\nkits/hum/hum.pdf\nkits/hum/hum.svg\n", out, "programs read a list of files")
}

func TestManyKitsAreSummedUp(t *testing.T) {
	out, complaints, err := told(true, made{files: files}, made{files: files, unchanged: true}, made{err: errors.New("the disk is full")})
	assert.Equal(t, "play kits/hum/hum-060-full.wav; print kits/hum/hum.pdf\n", asSeen(out))
	assert.Contains(t, out, "2 of 3 kits, about ")
	assert.Equal(t, "thirdwise: the disk is full\n1 kit made, 1 unchanged\n", complaints)
	assert.EqualError(t, err, "not made: kits/hum")
}

func TestProgramsAreToldOfEachKit(t *testing.T) {
	folder := t.TempDir()
	well, ill := file(t, "small.yaml", small), file(t, "ill.yaml", faulty)
	r := thirdwise("render", "--json", "--mix", "click", "-o", folder, ill, well)
	assert.Equal(t, wrong, r.status)
	var records []record
	for line := range strings.Lines(r.stdout) {
		var one record
		require.NoError(t, json.Unmarshal([]byte(line), &one))
		records = append(records, one)
	}
	require.Len(t, records, 2)
	assert.Equal(t, record{Exercise: ill, State: "failed", Error: "4 mistakes"}, records[0])
	assert.Equal(t, folder+"/small", records[1].Kit)
	assert.Equal(t, "C major", records[1].Key)
	assert.Equal(t, "made", records[1].State)
	assert.Equal(t, len(entries(t, folder+"/small")), records[1].Files)
}
