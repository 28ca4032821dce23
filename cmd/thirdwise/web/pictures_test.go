package web_test

import (
	"bytes"
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/testdata/exercises"
)

var pictures = flag.Bool("pictures", false, "take the README's pictures anew")

// The README's pictures are the pages as they are; with -pictures they are taken
// anew. Fonts differ from machine to machine, so that only their size is held.
func TestPicturesInTheReadme(t *testing.T) {
	for name, show := range map[string]func(t *testing.T) *tab{
		"practice-page.png": func(t *testing.T) *tab {
			b := open(t, practice(t, "porch-light", arrangetest.Named(t, "porch-light")), device)
			b.do(chromedp.EmulateViewport(1200, 780))
			b.enter(".count-in", "none")
			b.play()
			b.pass(4 + 2.2) // into the third beat of bar two at 60 beats per minute
			b.until(`document.querySelector(".count").innerText === "bar 2, beat 3"`)
			return b
		},
		"workbench.png": func(t *testing.T) *tab {
			b := open(t, workbench(t), "")
			b.do(chromedp.EmulateViewport(1200, 780))
			text, err := exercises.Files.ReadFile("porch-light.yaml")
			require.NoError(t, err)
			b.write(string(text))
			b.follow()
			return b
		},
	} {
		b := show(t)
		picture, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
		require.NoError(t, err)
		file := filepath.Join("..", "..", "..", "testdata", "pictures", name)
		if *pictures {
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
			require.NoError(t, os.WriteFile(file, picture, 0o666))
		}
		kept, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, p := range [][]byte{picture, kept} {
			config, err := png.DecodeConfig(bytes.NewReader(p))
			require.NoError(t, err)
			assert.Equal(t, 1200, config.Width, name)
			assert.Equal(t, 780, config.Height, name)
		}
	}
}
