package page

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"clampwright/testdata/outside"
)

// OpenWhole opens real documents, each example's by their names, as a reader would: on a
// screen, on phones and on paper; for the tests outside this package, which can make them.
func OpenWhole(t *testing.T, names []string, docs func(name string) map[string]string) {
	ctx := outside.Browser(t)
	for _, name := range names {
		all := docs(name)
		for _, doc := range slices.Sorted(maps.Keys(all)) {
			t.Run(name+"/"+doc, func(t *testing.T) { openOne(t, ctx, all[doc], Doc(doc) == Card) })
		}
	}
}

func openOne(t *testing.T, ctx context.Context, page string, card bool) {
	url, asked := served(t, page)
	heard := listen(t, ctx, url)
	run(t, ctx, media("screen", "light"), chromedp.EmulateViewport(1200, 900), chromedp.Navigate(url))
	if card {
		t.Run("picture is drawn", func(t *testing.T) { pictureIsDrawn(t, ctx) })
		t.Run("steps are painted", func(t *testing.T) { stepsArePainted(t, ctx) })
	}
	for _, wide := range []int64{1200, 390, 360} {
		run(t, ctx, chromedp.EmulateViewport(wide, 800))
		t.Run(fmt.Sprintf("%d wide", wide), func(t *testing.T) { fitsAcross(t, ctx, float64(wide)); numbersAreWhole(t, ctx) })
	}
	// A4 and Letter less the margins of 14 mm, in CSS pixels of 1/96 in.
	for paper, mm := range map[string]float64{"A4": 210 - 28, "Letter": 215.9 - 28} {
		wide := int64(mm * 96 / 25.4)
		run(t, ctx, media("print", "light"), chromedp.EmulateViewport(wide, 1000))
		t.Run("on "+paper, func(t *testing.T) { fitsAcross(t, ctx, float64(wide)); numbersAreWhole(t, ctx) })
	}
	for _, c := range heard.all() {
		t.Error(c)
	}
	for _, p := range asked() {
		if p != "/sheet" {
			t.Errorf("the page asked for %s", p)
		}
	}
}

// broken are the numbers of a page that lie on two lines or more, with their units, which
// are listed here from the page's texts, not from the program's own list.
const broken = `(() => { const out = new Set();
 const is = /(?<![\w.,-])[\u00b1\u2212-]?\d(?:[\d.,]*\d)?(?:[ \u00a0]\d+\/\d+)?(?:[ \u00a0](?:mm\u00b2|mm2|mm|in|N\u00b7m|lbf\u00b7in|lbf|lb|kN|N|kPa|MPa|psi|mV|V|kA|A|Ah|kWh|W|kg|g|h|ohm|%|\u00b0C|\u00b0F)(?![\w\u00b7/])|\/\d+)?/g;
 const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
 for (let n; n = walk.nextNode();) {
  if (n.parentElement.closest("script,style,svg,code")) continue;
  for (const m of n.data.matchAll(is)) {
   const r = document.createRange(); r.setStart(n, m.index); r.setEnd(n, m.index + m[0].length);
   const at = [...r.getClientRects()].filter(b => b.width > 0).map(b => b.top);
   if (at.length > 1 && Math.max(...at) - Math.min(...at) > 4) out.add(m[0] + " in " + n.data.slice(Math.max(0, m.index - 30), m.index + 40));
  } }
 return [...out].slice(0, 12).join("\n"); })()`

// numbersAreWhole looks for numbers that are parted from their units, or broken themselves.
func numbersAreWhole(t *testing.T, ctx context.Context) {
	if b := eval[string](t, ctx, broken); b != "" {
		t.Errorf("broken over lines:\n%s", b)
	}
}

// unpainted names the colours of a step's picture that no pixels of it have.
const unpainted = `(async () => { const out = []; let seen = 0;
 for (const s of document.querySelectorAll("svg.shot")) {
  const v = s.viewBox.baseVal, c = document.createElement("canvas"), k = s.cloneNode(true), css = document.createElementNS("http://www.w3.org/2000/svg", "style");
  c.width = v.width; c.height = v.height; k.setAttribute("width", v.width); k.setAttribute("height", v.height);
  css.textContent = ".now{fill-rule:evenodd}path:not(.now),circle{fill:none}.ink{stroke:#000;stroke-width:1.3}text{display:none}"; k.prepend(css);
  const i = new Image(); i.src = "data:image/svg+xml," + encodeURIComponent(new XMLSerializer().serializeToString(k)); await i.decode();
  const g = c.getContext("2d", {willReadFrequently: true}); g.drawImage(i, 0, 0);
  const d = g.getImageData(0, 0, c.width, c.height).data, has = {};
  for (let p = 0; p < d.length; p += 4) if (d[p+3] > 250) { const h = (d[p]<<16|d[p+1]<<8|d[p+2]).toString(16).padStart(6, "0"); has[h] = (has[h] || 0) + 1; }
  const fills = [...s.querySelectorAll("path.now[fill]")];
  if (!fills.length) out.push("nothing in colour: " + s.querySelector("title").textContent);
  for (const f of fills) { seen++; const n = has[f.getAttribute("fill").slice(1)] || 0; if (n < 4) out.push(n + " pixels of " + f.getAttribute("fill") + ": " + s.querySelector("title").textContent); }
 }
 if (!seen) out.push("no picture of a step");
 return out.join("\n"); })()`

// stepsArePainted sees in the pixels that every picture shows what its step adds or works
// on, in the colour of its kind.
func stepsArePainted(t *testing.T, ctx context.Context) {
	if u := eval[string](t, ctx, unpainted); strings.TrimSpace(u) != "" {
		t.Error(u)
	}
}
