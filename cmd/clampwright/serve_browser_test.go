package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"clampwright/testdata/outside"
)

// served is a bench page of a test.
type served struct {
	t         *testing.T
	file, dir string
	out, errs lockedBuffer
	stop      func()
	done      chan error
}

// serveText serves a file with a text, or none where it is empty.
func serveText(t *testing.T, text string) *served {
	t.Helper()
	s := &served{t: t, dir: t.TempDir(), done: make(chan error, 1)}
	if text != "" {
		s.file = filepath.Join(s.dir, "pack.yaml")
		writeFile(t, s.file, text)
	} else {
		t.Chdir(s.dir)
	}
	ctx, stop := context.WithCancel(context.Background())
	s.stop = stop
	t.Cleanup(stop)
	go func() { s.done <- serve(ctx, &console{out: &s.out, err: &s.errs}, s.file, "", 0, false) }()
	return s
}

// url is the address on the console.
func (s *served) url() string {
	s.t.Helper()
	for range 500 {
		if line, _, ok := strings.Cut(s.out.String(), "\n"); ok {
			return line
		}
		time.Sleep(20 * time.Millisecond)
	}
	s.t.Fatal("no address")
	return ""
}

// tab is a page in a browser; every click and every text typed counts.
type tab struct {
	t   *testing.T
	ctx context.Context
	did int
}

func openTab(t *testing.T, url string) *tab {
	b := &tab{t: t, ctx: outside.Browser(t)}
	b.do(chromedp.Navigate(url))
	return b
}

type action = chromedp.Action[chromedp.Void]

func (b *tab) do(what ...action) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, what...); err != nil {
		b.t.Fatal(err)
	}
}

func eval[T any](b *tab, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// await waits until a script says true.
func (b *tab) await(what, script string) {
	b.t.Helper()
	for range 3000 {
		if eval[bool](b, "!!("+script+")") {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	b.t.Fatalf("never: %s\n%s", what, eval[string](b, "document.body.innerText.slice(0, 1500)"))
}

const judgedNow = `document.documentElement.dataset.phase === "judged"`

// turn is which text is shown.
func (b *tab) turn() string {
	return eval[string](b, `(document.documentElement.dataset.shown || "").split(" ")[0]`)
}

// judged waits until a text after the one of a turn is judged in full.
func (b *tab) judged(after string) {
	b.t.Helper()
	b.await("judged after "+after, judgedNow+` && document.documentElement.dataset.shown.split(" ")[0] !== "`+after+`"`)
}

// set types a value anew as a hand does: a click on it, the text, Enter.
func (b *tab) set(path, value string) {
	b.t.Helper()
	b.did += 3
	b.await(path, `document.querySelector('.val[data-path="`+path+`"]')`)
	eval[bool](b, `document.querySelector('.val[data-path="`+path+`"]').click(), true`)
	b.typed(value)
}

// typed types into the field that has the focus, and Enter.
func (b *tab) typed(value string) {
	b.t.Helper()
	eval[bool](b, fmt.Sprintf(`(function () { var i = document.activeElement; i.value = %q; i.form.requestSubmit(); return true; })()`, value))
}

func (b *tab) click(selector string) {
	b.t.Helper()
	b.did++
	b.await(selector, `document.querySelector('`+selector+`') && !document.querySelector('`+selector+`').disabled`)
	eval[bool](b, `document.querySelector('`+selector+`').click(), true`)
}

func (b *tab) text(selector string) string {
	b.t.Helper()
	return eval[string](b, `(document.querySelector('`+selector+`') || {}).innerText || ""`)
}

// seen sets the size of what is seen, in CSS pixels, and the colour scheme.
func (b *tab) seen(w, h int64, scheme string) {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: w, Height: h, DeviceScaleFactor: 1})
		if err == nil {
			_, err = cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		}
		return err
	}))
	time.Sleep(300 * time.Millisecond)
}

// look saves what is seen, where the environment names a folder for it.
func (b *tab) look(name string, w, h int64, scheme string) {
	b.t.Helper()
	dir := os.Getenv("CLAMPWRIGHT_LOOK")
	if dir == "" {
		return
	}
	b.seen(w, h, scheme)
	png, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

func example(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(examplesDir, name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(bytes.TrimSpace(text)) + "\n"
}

// The card of the first example, seen in four sizes.
func TestServeLooked(t *testing.T) {
	s := serveText(t, example(t, "four-cell-offcut"))
	b := openTab(t, s.url())
	b.judged("")
	b.await("steps", `document.querySelector("#steps svg")`)
	for _, c := range []struct {
		name   string
		w, h   int64
		scheme string
	}{{"wide", 1280, 1600, "light"}, {"dark", 1280, 1000, "dark"}, {"phone", 360, 1400, "light"}, {"twice", 640, 1000, "light"}} {
		b.look(c.name, c.w, c.h, c.scheme)
	}
	b.set("plates.thickness", "1/2 in")
	b.judged("1")
	b.look("moved", 1280, 2200, "light")
}
