package web_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

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

// From pressing Play until the first sample is on its way to the device, without a
// count-in. The page watches its sound twenty times a second.
func BenchmarkPlayToSound(b *testing.B) {
	page := open(b, practice(b, "long-way", arrangetest.Score(b, long)), sounding)
	page.enter(".count-in", "none")
	page.do(chromedp.WaitReady(chromedp.CSS(`html[data-made="true"]`)))
	page.press("Play") // opens the audio, which happens once and wants a finger
	page.until("!silent()")
	page.press("Pause")
	page.until("silent()")
	total := 0.0
	for b.Loop() {
		took := evaluate[float64](page, `new Promise((resolve) => {
			const begun = performance.now();
			document.querySelector(".play").click();
			heard = () => resolve(performance.now() - begun);
		})`)
		page.press("Pause")
		page.until("silent()")
		total += took
	}
	b.ReportMetric(total/float64(b.N), "ms/sound")
}

// sounding is a script that calls heard once a page makes sound, and knows when it
// is silent again.
const sounding = `
let heard = () => {};
let silent = () => true;
const connect = AudioNode.prototype.connect;
AudioNode.prototype.connect = function (to, ...rest) {
	if (to instanceof AudioDestinationNode) {
		const meter = new AnalyserNode(this.context, { fftSize: 2048 });
		const samples = new Float32Array(2048);
		connect.call(this, meter);
		silent = () => (meter.getFloatTimeDomainData(samples), samples.every((x) => x === 0));
		const watch = () => {
			if (!silent()) {
				heard();
				heard = () => {};
			}
			setTimeout(watch, 2);
		};
		watch();
	}
	return connect.call(this, to, ...rest);
};`

// What the engine makes of 32 bars, all parts, in how much less time than they
// last: on one thread, in the page's own worker.
func BenchmarkRender(b *testing.B) {
	page := open(b, practice(b, "long-way", arrangetest.Score(b, long)), "")
	page.do(chromedp.WaitReady(chromedp.CSS(`html[data-made="true"]`)))
	seconds := 0.0
	for n := 0; b.Loop(); n++ {
		tempo := 100 + 10*(n%2)
		page.enter("#tempo", fmt.Sprint(tempo))
		page.do(chromedp.WaitReady(chromedp.CSS(`html[data-made="true"]`)))
		seconds += 32 * 4 * 60 / float64(tempo)
	}
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "times-real-time")
}

// From a key in the workbench until the sheet of 32 bars is laid out, and until the
// next picture with it is on its way to the screen. Keys are pressed, one after the
// other, in the middle of the chart or of the title.
func BenchmarkKeystrokeToSheet(b *testing.B) {
	for _, typed := range []struct{ name, behind, keys string }{
		{"chord", "| Em | F", "7\b"}, // F, F7, F ...
		{"title", "Long", "er\b\b"},
	} {
		b.Run(typed.name, func(b *testing.B) {
			page := open(b, workbench(b), stopwatch)
			page.write(long)
			page.until(`document.querySelectorAll(".music .bar").length === 32`)
			page.script(fmt.Sprintf(`
				const text = document.querySelector("#exercise");
				text.focus();
				const caret = text.value.indexOf(%[1]q) + %[1]q.length;
				text.setSelectionRange(caret, caret);`, typed.behind))
			var laid, painted float64
			press := func(n int) {
				page.do(chromedp.KeyEvent(typed.keys[n%len(typed.keys):][:1]))
				got := evaluate[[2]float64](page, "shown")
				laid, painted = laid+got[0], painted+got[1]
			}
			for n := range 12 * len(typed.keys) { // until the browser has compiled what is hot
				press(n)
			}
			laid, painted = 0, 0
			n := 0
			for b.Loop() {
				press(n)
				n++
			}
			b.ReportMetric(laid/float64(n), "ms/laid-out")
			b.ReportMetric(painted/float64(n), "ms/painted")
		})
	}
}

// stopwatch is a script that measures from each key: when the sheet that follows is
// laid out, and when the next frame is made. The promise shown has both, in
// milliseconds.
const stopwatch = `
let shown;
addEventListener("keydown", (event) => {
	const root = document.documentElement;
	shown = new Promise((resolve) => {
		delete root.dataset.drawn;
		new MutationObserver((_, observer) => {
			if (!root.dataset.drawn) return;
			observer.disconnect();
			const laid = performance.now() - event.timeStamp;
			requestAnimationFrame(() => {
				const made = new MessageChannel();
				made.port1.onmessage = () => resolve([laid, performance.now() - event.timeStamp]);
				made.port2.postMessage(0);
			});
		}).observe(root, { attributeFilter: ["data-drawn"] });
	});
}, true);`

// The memory of a practice page that has played 32 bars at the slowest tempo and
// at the fastest.
func BenchmarkMemory(b *testing.B) {
	page := open(b, practice(b, "long-way", arrangetest.Score(b, long)), "")
	for _, tempo := range []string{"20", "400"} {
		page.enter("#tempo", tempo)
		page.do(chromedp.WaitReady(chromedp.CSS(`html[data-made="true"]`))) // all bars were made once
		page.press("Play")
		page.until(`document.querySelector(".count").innerText.startsWith("bar 2")`)
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
