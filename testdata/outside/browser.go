package outside

import (
	"context"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Browser starts one headless Chromium for a test, or skips where there is none.
func Browser(t *testing.T, flags ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	path := Program(t, "chromium")
	opts := append(append([]chromedp.ExecAllocatorOption(nil), chromedp.DefaultExecAllocatorOptions[:]...),
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.WSURLReadTimeout(2*time.Minute),
		chromedp.Flag("use-gl", "angle"), chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))
	opts = append(opts, flags...)
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil { // starts the browser; its context must not time out
		t.Fatal(err)
	}
	ctx, stop = context.WithTimeout(ctx, 20*time.Minute)
	t.Cleanup(stop)
	return ctx
}
