package web_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// long is an exercise of 32 bars, no two phrases alike.
const long = "title: Long Way\nkey: C major\nchart: |\n" +
	"  | C | Am | Dm | G7 | Em | F | Dm G | C |\n  | F | G | Em | Am | Dm | G | C F | G |\n" +
	"  | Am | F | C | G | Dm | Am | E7 | Am |\n  | C | C7 | F | Fm | C G | Am D7 | Dm G7 | C |\n" +
	"bass: walking\ntempos: [80, 120]\n"

// From opening a page until it can be played.
func BenchmarkColdStart(b *testing.B) {
	for name, file := range map[string]string{
		"practice":  practice(b, "long-way", arrangetest.Score(b, long)),
		"workbench": workbench(b),
	} {
		b.Run(name, func(b *testing.B) {
			page := open(b, file, "")
			for b.Loop() {
				page.do(chromedp.Navigate("file://"+file), chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/start")
		})
	}
}

// From pressing Play until the first sample, without a count-in.
func BenchmarkPlayToSound(b *testing.B) {
	page := open(b, practice(b, "long-way", arrangetest.Score(b, long)), ear)
	page.enter(".count-in", "none")
	page.press("Play") // opens the audio, which happens once
	time.Sleep(time.Second)
	page.press("Pause")
	time.Sleep(time.Second)
	page.heard()
	total := 0.0
	for b.Loop() {
		before := evaluate[float64](page, `(document.querySelector(".play").click(), ear.context.currentTime)`)
		time.Sleep(700 * time.Millisecond)
		page.press("Pause")
		time.Sleep(300 * time.Millisecond)
		first, left, _ := page.heard()
		for i := int(before*rate) - first; i >= 0 && i < len(left); i++ {
			if left[i] != 0 {
				total += float64(first+i)/rate - before
				break
			}
		}
	}
	b.ReportMetric(1000*total/float64(b.N), "ms/sound")
}

// From a key in the workbench until the sheet of 32 bars is drawn.
func BenchmarkKeystrokeToSheet(b *testing.B) {
	page := open(b, workbench(b), "")
	for range 8 { // until the browser has compiled what is hot
		page.write(long)
		page.write(long + "#")
	}
	total, n := 0, 0
	for b.Loop() {
		n++
		page.write(long + strings.Repeat("#", n%7))
		total += evaluate[int](page, "Number(document.documentElement.dataset.arranged)")
	}
	b.ReportMetric(float64(total)/float64(n), "ms/sheet")
}

// The memory of a practice page that has played 32 bars at the slowest tempo and
// at the fastest.
func BenchmarkMemory(b *testing.B) {
	page := open(b, practice(b, "long-way", arrangetest.Score(b, long)), "")
	for _, tempo := range []string{"20", "400"} {
		page.enter("#tempo", tempo)
		page.press("Play")
		time.Sleep(12 * time.Second)
		page.press("Pause")
	}
	for b.Loop() {
	}
	b.ReportMetric(float64(memoryOf(b, page))/1024, "MB")
}

// memoryOf returns the proportional set size of the page's process, in kB.
func memoryOf(b *testing.B, page *tab) (most int) {
	got, err := chromedp.CallBrowser(page.ctx, systeminfo.GetProcessInfo, cdp.Empty{})
	require.NoError(b, err)
	for _, process := range got.ProcessInfo {
		if process.Type != "renderer" {
			continue
		}
		rollup, err := os.ReadFile(fmt.Sprintf("/proc/%d/smaps_rollup", process.ID))
		require.NoError(b, err)
		for line := range strings.Lines(string(rollup)) {
			var kilobytes int
			if n, _ := fmt.Sscanf(line, "Pss: %d kB", &kilobytes); n == 1 {
				most = max(most, kilobytes)
			}
		}
	}
	return most
}
