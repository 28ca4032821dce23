package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/cmd/thirdwise/kit"
)

func TestTheLastLineOnATerminalSaysWhatToPlayAndPrint(t *testing.T) {
	var out bytes.Buffer
	files := []kit.File{
		{Name: "hum-060-full.wav", Kind: kit.KindAudio}, {Name: "hum-060-guide.wav", Kind: kit.KindAudio},
		{Name: "hum.pdf", Kind: kit.KindSheet}, {Name: "hum.svg", Kind: kit.KindSheet},
	}
	(&progress{w: &out, folder: "kits/hum", terminal: true}).advise(files)
	assert.Equal(t, "play kits/hum/hum-060-full.wav; print kits/hum/hum.pdf\n", out.String())
	out.Reset()
	(&progress{w: &out, folder: "kits/hum"}).advise(files)
	assert.Empty(t, out.String(), "programs read a list of files and nothing else")
}
