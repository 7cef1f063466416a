package page

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// served gives the page an address and counts what is asked for.
func served(t *testing.T, page string) (url string, asked func() []string) {
	t.Helper()
	var mu sync.Mutex
	var paths []string
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		paths = append(paths, r.URL.Path)
		mu.Unlock()
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		fmt.Fprint(w, page)
	}))
	t.Cleanup(srv.Close)
	return srv.URL + "/sheet", func() []string {
		mu.Lock()
		defer mu.Unlock()
		return append([]string(nil), paths...)
	}
}

// complaints collects what the page logs, throws or asks the network for.
type complaints struct {
	mu    sync.Mutex
	texts []string
}

func (c *complaints) add(format string, args ...any) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.texts = append(c.texts, fmt.Sprintf(format, args...))
}

func (c *complaints) all() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return append([]string(nil), c.texts...)
}

// listen records console messages, exceptions, policy reports and requests
// other than for the page at url and for data that lie in it.
func listen(t *testing.T, ctx context.Context, url string) *complaints {
	t.Helper()
	c := &complaints{}
	run(t, ctx, do(network.Enable, network.EnableParams{}), do(log.Enable, cdp.Empty{}))
	err := chromedp.Listen(ctx, func(ev any) {
		switch ev := ev.(type) {
		case *runtime.EventConsoleAPICalled:
			if ev.Type == runtime.ConsoleAPICalledTypeError || ev.Type == runtime.ConsoleAPICalledTypeWarning {
				c.add("console %s: %v", ev.Type, ev.Args)
			}
		case *runtime.EventExceptionThrown:
			c.add("exception: %s %v", ev.ExceptionDetails.Text, ev.ExceptionDetails.Exception)
		case *log.EventEntryAdded:
			// The driver of this software renderer reports on its own speed.
			if ev.Entry.Level == log.EntryLevelError || ev.Entry.Level == log.EntryLevelWarning && !strings.Contains(ev.Entry.Text, "GL Driver Message") {
				c.add("log: %s", ev.Entry.Text)
			}
		case *network.EventRequestWillBeSent:
			if u := ev.Request.URL; u != url && !strings.HasPrefix(u, "data:") {
				c.add("request: %s", u)
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// deed is an action without a value.
type deed = chromedp.Action[chromedp.Void]

// run fails the test on an error.
func run(t *testing.T, ctx context.Context, deeds ...deed) {
	t.Helper()
	if err := chromedp.Do(ctx, deeds...); err != nil {
		t.Fatal(err)
	}
}

// eval returns the value of a script, which may be a promise.
func eval[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// do makes a deed of a command of the protocol.
func do[P, R any](cmd cdp.Command[P, R], p P) deed {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, cmd, p)
		return err
	})
}

// media sets the medium ("", "screen", "print") and the colour scheme.
func media(kind, scheme string) deed {
	return do(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind,
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
}
