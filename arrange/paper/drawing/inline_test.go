package drawing

import (
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An inline image refers to outlines that are beside it, and to no others; both are
// well-formed XML.
func TestInlineImagesHaveTheirOutlinesBesideThem(t *testing.T) {
	marks := []Mark{
		Stroke(0, 0, 10, 0, 0.1), Stroke(0, 1, 10, 1, 0.1), Stroke(0, 2, 10, 2, 0.3),
		Words{X: 1, Y: 2, Size: 1.5, Text: "12"},
		Group{ID: "third-1", Marks: []Mark{TrebleClef.At(3, 4, 1), Text(1, 1, 2, Bold, FromLeft, "B♭m <&>")}},
	}
	var image, outlines strings.Builder
	require.NoError(t, WriteInline(&image, Box{-1, -2, 11, 5}, marks, func(text string) bool { return text != "12" }))
	var written Outlines
	require.NoError(t, written.Write(&outlines, marks))

	found := func(pattern, in string) map[string]bool {
		names := map[string]bool{}
		for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(in, -1) {
			names[m[1]] = true
		}
		return names
	}
	assert.NotEmpty(t, found(`href="#([^"]+)"`, image.String()))
	assert.Equal(t, found(`href="#([^"]+)"`, image.String()), found(` id="([^"]+)"`, outlines.String()))
	assert.Contains(t, image.String(), `viewBox="-1 -2 12 7"`)
	assert.Contains(t, image.String(), `d="M0 0L10 0M0 1L10 1"`, "strokes of one thickness are one")
	assert.Contains(t, image.String(), `d="M0 2L10 2"`)
	assert.Contains(t, image.String(), `>m &lt;&amp;&gt;</text>`)
	assert.NotContains(t, image.String(), `>12</text>`)
	for _, text := range []string{image.String(), outlines.String()} {
		decoder := xml.NewDecoder(strings.NewReader(text))
		for {
			_, err := decoder.Token()
			if err == io.EOF {
				break
			}
			require.NoError(t, err)
		}
	}
}

// Of marks that are written one after the other each has the outlines beside it that
// none before it had.
func TestOutlinesAreWrittenOnce(t *testing.T) {
	var written Outlines
	write := func(marks ...Mark) []string {
		var b strings.Builder
		require.NoError(t, written.Write(&b, marks))
		names := []string{}
		for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(b.String(), -1) {
			names = append(names, m[1])
		}
		return names
	}
	assert.Equal(t, []string{"sharp-sign", "r41"}, write(SharpSign.At(1, 1, 1), Words{Size: 1, Text: "A"}))
	assert.Equal(t, []string{"r42", "b41"}, write(Words{Size: 1, Text: "AB"}, Words{Size: 1, Font: Bold, Text: "A"}))
	assert.Empty(t, write(SharpSign.At(2, 2, 1), Words{Size: 1, Text: "BA"}))
	assert.Equal(t, []string{"flat-sign"}, write(FlatSign.At(2, 2, 1)))
	var nothing strings.Builder
	require.NoError(t, written.Write(&nothing, []Mark{FlatSign.At(1, 1, 1)}))
	assert.Empty(t, nothing.String())
}
