package web_test

import (
	"context"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/web"
)

const rate = 44100

// gain is that of the pages in these tests, in dB.
const gain = -10

// A tab is a page in a browser.
type tab struct {
	t        testing.TB
	ctx      context.Context
	mu       sync.Mutex
	messages []string // of the console
	requests []string // that are for more than the page itself
}

// chromium returns the browser. The tests in it watch a clock, so they are left
// out but where .ci/pages asks for them on a machine that does nothing else.
func chromium(t testing.TB) string {
	t.Helper()
	if os.Getenv("THIRDWISE_BROWSERS") != "required" {
		t.Skip("tests in a browser are run by .ci/pages")
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Fatal("chromium is not installed")
	return ""
}

// started is the browser that all tests share.
var started struct {
	sync.Once
	ctx    context.Context
	folder string
	stop   func()
}

// running returns the context of the browser.
func running(t testing.TB) context.Context {
	path := chromium(t)
	started.Do(func() {
		folder, err := os.MkdirTemp("", "chromium")
		require.NoError(t, err)
		options := append(chromedp.DefaultExecAllocatorOptions[:],
			chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(folder),
			chromedp.Flag("disable-quic", true), chromedp.Flag("mute-audio", false),
			chromedp.WindowSize(1440, 900),
		)
		allocated, stop := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, cancel := chromedp.NewContext(allocated)
		require.NoError(t, chromedp.Do(ctx)) // starts it
		started.ctx, started.folder = ctx, folder
		started.stop = func() { cancel(); stop() }
	})
	return started.ctx
}

func TestMain(m *testing.M) {
	status := m.Run()
	if started.stop != nil {
		started.stop()
		os.RemoveAll(started.folder)
	}
	os.Exit(status)
}

// open opens a page that is a file, in a window with a storage of its own. Before
// the page's own script another may run.
func open(t testing.TB, file, before string) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(running(t), chromedp.WithNewBrowserContext())
	ctx, timeout := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(func() { timeout(); cancel() })
	b := &tab{t: t, ctx: ctx}
	messages := chromedp.Console(ctx)
	go func() {
		for message, err := range messages {
			if err != nil {
				return
			}
			b.mu.Lock()
			b.messages = append(b.messages, message.String())
			b.mu.Unlock()
		}
	}()
	require.NoError(t, chromedp.Listen(ctx, func(event any) {
		sent, ok := event.(*network.EventRequestWillBeSent)
		if !ok {
			return
		}
		b.mu.Lock()
		defer b.mu.Unlock()
		url := sent.Request.URL
		if !strings.HasPrefix(url, "blob:") && !strings.HasPrefix(url, "data:") && url != "file://"+file {
			b.requests = append(b.requests, url)
		}
	}))
	_, err := chromedp.Call(ctx, network.Enable, network.EnableParams{})
	require.NoError(t, err)
	_, err = chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: before})
	require.NoError(t, err)
	b.do(chromedp.Navigate("file://"+file), chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
	return b
}

func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, actions...))
}

// evaluate returns the value of an expression, or of the promise that it is.
func evaluate[T any](b *tab, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err)
	return value
}

// script runs statements.
func (b *tab) script(statements string) {
	b.t.Helper()
	evaluate[chromedp.Void](b, "(() => {"+statements+"})()")
}

// press clicks a button with an accessible name.
func (b *tab) press(name string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.Search(fmt.Sprintf(`//button[normalize-space(.)=%q or @aria-label=%q]`, name, name))))
}

// enter puts a value into a field, as one who types and goes on does.
func (b *tab) enter(selector, value string) {
	b.t.Helper()
	b.script(fmt.Sprintf(`
		const field = document.querySelector(%q);
		field.value = %q;
		field.dispatchEvent(new Event("input"));
		field.dispatchEvent(new Event("change"));`, selector, value))
}

// ear is a script that keeps a copy of all that a page plays, from the first
// frame of its audio context on.
const ear = `
const recorder = "data:text/javascript," + encodeURIComponent(` + "`" + `
registerProcessor("ear", class extends AudioWorkletProcessor {
  constructor() { super(); this.kept = []; this.port.onmessage = () => { this.port.postMessage(this.kept); this.kept = []; }; }
  process([input]) {
    const [left, right] = input;
    this.kept.push({ frame: currentFrame, left: left ? left.slice() : null, right: right ? right.slice() : null });
    return true;
  }
});` + "`" + `);
window.ear = { first: -1 };
const addModule = AudioWorklet.prototype.addModule;
AudioWorklet.prototype.addModule = async function (url) { await addModule.call(this, recorder); return addModule.call(this, url); };
const connect = AudioNode.prototype.connect;
AudioNode.prototype.connect = function (to, ...rest) {
  if (to instanceof AudioDestinationNode) {
    const node = new AudioWorkletNode(this.context, "ear", { numberOfOutputs: 0 });
    connect.call(this, node);
    window.ear.context = this.context;
    window.ear.heard = () => new Promise((resolve) => {
      node.port.onmessage = ({ data }) => {
        const at = data.find((d) => d.left && d.left.some((x) => x !== 0));
        const first = data[0]?.frame ?? 0;
        const both = new Float32Array(2 * 128 * data.length);
        data.forEach((d, i) => {
          if (d.left) { both.set(d.left, 128 * i); both.set(d.right, 128 * (data.length + i)); }
        });
        let text = "";
        const bytes = new Uint8Array(both.buffer);
        for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
        resolve({ first, samples: btoa(text) });
      };
      node.port.postMessage(0);
    });
  }
  return connect.call(this, to, ...rest);
};`

// listen waits until some seconds more were heard, however busy the machine is.
func (b *tab) listen(seconds float64) {
	b.t.Helper()
	now := func() float64 { return evaluate[float64](b, "ear.context?.currentTime ?? 0") }
	for until := now() + seconds; now() < until; {
		time.Sleep(50 * time.Millisecond)
	}
}

// heard returns what was played since it was last asked: the frame of the audio
// context at which it begins, and the samples of both sides.
func (b *tab) heard() (first int, left, right []float32) {
	b.t.Helper()
	got := evaluate[struct {
		First   int
		Samples string
	}](b, "ear.heard()")
	bytes, err := base64.StdEncoding.DecodeString(got.Samples)
	require.NoError(b.t, err)
	samples := make([]float32, len(bytes)/4)
	for i := range samples {
		samples[i] = math.Float32frombits(binary.LittleEndian.Uint32(bytes[4*i:]))
	}
	return got.First, samples[:len(samples)/2], samples[len(samples)/2:]
}

// practice writes the practice page of a score alone into an empty folder.
func practice(t testing.TB, name string, s *score.Score) string {
	file := filepath.Join(t.TempDir(), name+".html")
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, web.Practice.WritePractice(f, name, s, gain))
	require.NoError(t, f.Close())
	return file
}

// exercise is short and quick, so that the tests are.
const exercise = "title: Small Gate\nkey: C major\nchart: '| C | Am | F | G7 |'\ntempos: [240, 200]\nbass: root-fifth\n"

func small(t testing.TB) *score.Score { return arrangetest.Score(t, exercise) }
