package web_test

import (
	"context"
	_ "embed"
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
	"github.com/stretchr/testify/assert"
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

// browsers says in what way tests use a browser: "required" fails them where there
// is none; otherwise they are left out there, and in a short run.
var browsers = os.Getenv("THIRDWISE_BROWSERS")

// chromium returns the path of the browser.
func chromium(t testing.TB) string {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if browsers != "required" {
		t.Skip("no Chromium is installed")
	}
	t.Fatal("Chromium is not installed")
	return ""
}

// started is the browser that all tests share.
var started struct {
	sync.Once
	ctx    context.Context
	err    error
	folder string
	stop   func()
}

// running returns the context of the browser.
func running(t testing.TB) context.Context {
	path := chromium(t)
	started.Do(func() {
		started.folder, started.err = os.MkdirTemp("", "chromium")
		if started.err != nil {
			return
		}
		options := append(chromedp.DefaultExecAllocatorOptions[:],
			chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(started.folder),
			chromedp.Flag("disable-quic", true), chromedp.Flag("mute-audio", false),
			chromedp.WSURLReadTimeout(time.Minute), chromedp.WindowSize(1440, 900),
		)
		allocated, stop := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, cancel := chromedp.NewContext(allocated)
		started.err = chromedp.Do(ctx) // starts it
		started.ctx = ctx
		started.stop = func() { cancel(); stop() }
	})
	if started.err != nil && browsers != "required" {
		t.Skip("Chromium does not start here: ", started.err)
	}
	require.NoError(t, started.err)
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
	b := visit(t, file, before)
	b.do(chromedp.WaitReady(chromedp.CSS("html[data-ready]")))
	return b
}

// visit opens a page that does not tell when it is ready.
func visit(t testing.TB, file, before string) *tab {
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
	b.do(chromedp.Navigate("file://" + file))
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

// device is a script that gives a page a sound device whose time passes when a
// test lets it pass; see [tab.pass].
//
//go:embed testdata/device.js
var device string

// play presses Play and waits until the page has what it plays at first.
func (b *tab) play() {
	b.t.Helper()
	b.press("Play")
	b.until(`document.querySelector(".play").innerText.trim() === "Pause"`)
	b.pass(0)
}

// pass lets seconds of sound pass, however long that takes. The page has a device.
func (b *tab) pass(seconds float64) {
	b.t.Helper()
	evaluate[chromedp.Void](b, fmt.Sprintf("device.pass(%f)", seconds))
}

// until waits until an expression is true. A page that waits for ever fails the
// test after the two minutes of its tab.
func (b *tab) until(expression string) {
	b.t.Helper()
	evaluate[bool](b, fmt.Sprintf(`new Promise((resolve) => {
		const look = () => (%s) ? resolve(true) : setTimeout(look, 20);
		look();
	})`, expression))
}

// heard returns what was played since it was last asked: the frame of the audio
// context at which it begins, and the samples of both sides.
func (b *tab) heard() (first int, left, right []float32) {
	b.t.Helper()
	got := evaluate[struct {
		First   int
		Samples string
	}](b, "device.heard()")
	bytes, err := base64.StdEncoding.DecodeString(got.Samples)
	require.NoError(b.t, err)
	samples := make([]float32, len(bytes)/4)
	for i := range samples {
		samples[i] = math.Float32frombits(binary.LittleEndian.Uint32(bytes[4*i:]))
	}
	return got.First, samples[:len(samples)/2], samples[len(samples)/2:]
}

// isAlone holds that the page has asked for nothing, and had nothing to say to the
// console.
func (b *tab) isAlone() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	assert.Empty(b.t, b.requests)
	assert.Empty(b.t, b.messages)
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
