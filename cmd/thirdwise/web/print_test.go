package web_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// printed prints the page on A4 and returns the PDF file.
func (b *tab) printed() []byte {
	b.t.Helper()
	pdf, err := chromedp.Call(b.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 210 / 25.4, PaperHeight: 297 / 25.4})
	require.NoError(b.t, err)
	return []byte(pdf.Data)
}

// pages counts the pages of a PDF file, each of which is an object of type Page (ISO
// 32000-1, 7.7.3.3).
func pages(pdf []byte) int {
	return bytes.Count(pdf, []byte("/Type /Page\n"))
}

// A page prints its sheet and the cautions and nothing else, each page of it on paper of its
// own.
func TestPagesPrintTheSheet(t *testing.T) {
	b := open(t, practice(t, "small-gate", small(t)), "")
	b.do(chromedp.EmulateViewport(360, 740)) // a telephone prints as a desktop does
	pdf := b.printed()
	assert.Equal(t, 1, pages(pdf))
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	require.NoError(t, err)
	assert.Equal(t, []string{"H1", "facts", "sheet", "caution"}, evaluate[[]string](b, `[...document.querySelectorAll("h1, .facts, main > *, footer")]
		.filter((part) => part.getBoundingClientRect().height > 0).map((part) => part.className || part.tagName)`))

	b = open(t, workbench(t), "window.print = () => (document.documentElement.dataset.printing = true);")
	b.write("title: Long\nkey: C major\nchart: |\n" + strings.Repeat("  | C | Am | Dm | G |\n", 16))
	b.script(`[...document.querySelectorAll("button")].find((b) => b.innerText === "Print").click()`)
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-printing]")))
	sheets := evaluate[int](b, `document.querySelectorAll(".printed .music").length`)
	assert.Greater(t, sheets, 1)
	pdf = b.printed()
	assert.Equal(t, sheets, pages(pdf))
}

// Degrees stand white in the black dots of the printed map, whatever colours the page has
// on the screen.
func TestThePrintedMapHasItsDegrees(t *testing.T) {
	b := open(t, workbench(t), "window.print = () => (document.documentElement.dataset.printing = true);")
	b.do(chromedp.WaitReady(chromedp.CSS(".music")))
	b.press("Print")
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-printing]")))
	for _, scheme := range []string{"light", "dark"} {
		_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Media: "print", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		require.NoError(t, err)
		b.until(`matchMedia("print").matches && matchMedia("(prefers-color-scheme: ` + scheme + `)").matches`)
		inks := evaluate[[]string](b, `[...document.querySelectorAll(".printed .paper use")].map((digit) => getComputedStyle(digit).fill)`)
		require.Greater(t, len(inks), 8)
		for _, ink := range inks {
			require.Equal(t, "rgb(255, 255, 255)", ink, scheme)
		}
		require.Equal(t, "rgb(0, 0, 0)", evaluate[string](b, `getComputedStyle(document.querySelector(".printed .music")).color`))
	}
}
