package page

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"clampwright/testdata/outside"
)

// TestShots keeps pictures of the sample page for the eye.
func TestShots(t *testing.T) {
	dir := os.Getenv("CLAMPWRIGHT_PAGE_SHOTS")
	if dir == "" {
		t.Skip("set CLAMPWRIGHT_PAGE_SHOTS=DIR to keep pictures of the sample page")
	}
	ctx := outside.Browser(t)
	url, _ := served(t, encodedAs(t, sampleSheet(), Card))
	only := os.Getenv("CLAMPWRIGHT_PAGE_ONLY")
	for _, s := range []struct {
		name, scheme string
		w, h         int64
	}{{"desk", "light", 1100, 2200}, {"dark", "dark", 1100, 2200}, {"phone", "light", 360, 2400}} {
		if strings.Contains(only, s.name) || only == "" {
			shoot(t, ctx, dir, s.name, "screen", s.scheme, url, s.w, s.h)
		}
	}
	run(t, ctx, media("", "light"))
	b, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "print.pdf"), b, 0o644); err != nil {
		t.Fatal(err)
	}
}

func shoot(t *testing.T, ctx context.Context, dir, name, kind, scheme, url string, w, h int64) {
	t.Helper()
	run(t, ctx, media(kind, scheme), chromedp.EmulateViewport(w, h), chromedp.Navigate(url))
	total := eval[float64](t, ctx, "document.documentElement.scrollHeight")
	for y := 0.0; y < total; y += float64(h) {
		eval[bool](t, ctx, fmt.Sprintf("scrollTo(0,%v); true", y))
		b, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s%02d.png", name, int(y)/int(h))), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
