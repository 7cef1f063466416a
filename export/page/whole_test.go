package page

import (
	"testing"

	"github.com/chromedp/chromedp"

	"clampwright/testdata/outside"
)

// OpenWhole opens real pages, by name, as a reader would: on a screen, on a phone
// and on paper; for the tests outside this package, which can make them.
func OpenWhole(t *testing.T, names []string, page func(name string) string) {
	ctx := outside.Browser(t)
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			url, asked := served(t, page(name))
			heard := listen(t, ctx, url)
			run(t, ctx, media("screen", "light"), chromedp.EmulateViewport(1100, 900), chromedp.Navigate(url))
			t.Run("picture is drawn", func(t *testing.T) { pictureIsDrawn(t, ctx) })
			run(t, ctx, chromedp.EmulateViewport(360, 800))
			t.Run("nothing wider than a phone", func(t *testing.T) { fitsAcross(t, ctx, 360) })
			const paper = 687 // A4 less the margins of 14 mm, in CSS pixels of 1/96 in
			run(t, ctx, media("print", "light"), chromedp.EmulateViewport(paper, 1000))
			t.Run("nothing wider than paper", func(t *testing.T) { fitsAcross(t, ctx, paper) })
			for _, c := range heard.all() {
				t.Error(c)
			}
			for _, p := range asked() {
				if p != "/sheet" {
					t.Errorf("the page asked for %s", p)
				}
			}
		})
	}
}
