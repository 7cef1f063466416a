package page

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"clampwright/testdata/outside"
)

// TestOpenedInABrowser opens the sample page as a reader would, on a screen,
// on a phone, on paper.
func TestOpenedInABrowser(t *testing.T) {
	ctx := outside.Browser(t)
	url, asked := served(t, encodedAs(t, sampleSheet(), Card))
	heard := listen(t, ctx, url)
	run(t, ctx, chromedp.EmulateViewport(1100, 900), chromedp.Navigate(url))
	t.Run("picture is drawn", func(t *testing.T) { pictureIsDrawn(t, ctx) })
	t.Run("picture obeys", func(t *testing.T) { pictureObeys(t, ctx) })
	t.Run("parts of the page", func(t *testing.T) { partsOfThePage(t, ctx) })
	for _, scheme := range []string{"light", "dark"} {
		run(t, ctx, media("screen", scheme))
		t.Run("contrast, "+scheme, func(t *testing.T) { contrastSuffices(t, ctx) })
	}
	run(t, ctx, media("screen", "light"))
	for _, w := range []int64{360, 320, 768} {
		run(t, ctx, chromedp.EmulateViewport(w, 800))
		t.Run(fmt.Sprintf("nothing wider than %d", w), func(t *testing.T) { fitsAcross(t, ctx, float64(w)) })
	}
	// A4 and Letter less the margins of 14 mm, in CSS pixels of 1/96 in.
	for name, mm := range map[string]float64{"A4": 210 - 28, "Letter": 215.9 - 28} {
		w := int64(mm * 96 / 25.4)
		run(t, ctx, media("print", "light"), chromedp.EmulateViewport(w, 1000))
		t.Run("paper, "+name, func(t *testing.T) { fitsAcross(t, ctx, float64(w)); stillShows(t, ctx) })
	}
	run(t, ctx, media("", "light"))
	t.Run("printed", func(t *testing.T) { printsWhole(t, ctx, "Does not pass", "19.60", "418.0", "left over 41 mm") })
	for _, c := range heard.all() {
		t.Error(c)
	}
	for _, p := range asked() {
		if p != "/sheet" {
			t.Errorf("the page asked for %s", p)
		}
	}
}

// The other documents fit a phone and a page too, and their words reach the paper.
func TestOtherDocumentsInABrowser(t *testing.T) {
	ctx := outside.Browser(t)
	for d, wants := range map[Doc][]string{Checks: {"Does not pass", "bends, mm", "cover.face-14", "52.8 V", "report.json"}, Forms: {"Put a cell aside", "found"}} {
		url, _ := served(t, encodedAs(t, sampleSheet(), d))
		heard := listen(t, ctx, url)
		run(t, ctx, chromedp.Navigate(url))
		for _, w := range []int64{360, 320, 768} {
			run(t, ctx, chromedp.EmulateViewport(w, 800))
			fitsAcross(t, ctx, float64(w))
		}
		if d == Checks {
			contrastSuffices(t, ctx)
		}
		printsWhole(t, ctx, wants...)
		for _, c := range heard.all() {
			t.Error(d, c)
		}
	}
}

// pixels counts the painted pixels of the canvas and their colours, and takes
// the mean of each field of a grid: the renderer does not draw every pixel
// alike twice.
const pixels = `(() => { const c = document.getElementById("turnable"), g = c.getContext("webgl2"), w = c.width, h = c.height;
 const b = new Uint8Array(4 * w * h); g.readPixels(0, 0, w, h, g.RGBA, g.UNSIGNED_BYTE, b);
 const X = 24, Y = 16, sum = new Array(X * Y).fill(0), seen = new Set(); let n = 0;
 for (let y = 0; y < h; y++) for (let x = 0; x < w; x++) { const i = 4 * (y * w + x);
  sum[Math.floor(y * Y / h) * X + Math.floor(x * X / w)] += b[i] + b[i+1] + b[i+2] + b[i+3];
  if (b[i+3]) { n++; seen.add(b[i]<<16|b[i+1]<<8|b[i+2]); } }
 return {share: n / (w * h), colours: seen.size, grid: sum.map(s => s * X * Y / (4 * w * h))}; })()`

// painted waits until what was asked for is drawn.
const painted = `new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => r(true))))`

type canvasState struct {
	Share   float64   `json:"share"`
	Colours int       `json:"colours"`
	Grid    []float64 `json:"grid"` // means from 0 to 255
}

// from is the greatest difference between two pictures, of 255.
func (s canvasState) from(o canvasState) float64 {
	most := 0.0
	for i := range s.Grid {
		most = max(most, math.Abs(s.Grid[i]-o.Grid[i]))
	}
	return most
}

// like reports whether two pictures show the same. The software renderer drops
// or adds a line here and there between two runs of one picture (up to 7 was
// seen); a step of the arrow key moves whole surfaces.
func (s canvasState) like(o canvasState) bool { return s.from(o) <= 16 }

func look(t *testing.T, ctx context.Context) canvasState {
	t.Helper()
	eval[bool](t, ctx, painted)
	return eval[canvasState](t, ctx, pixels)
}

func pictureIsDrawn(t *testing.T, ctx context.Context) {
	if !eval[bool](t, ctx, `document.getElementById("fixture-picture").classList.contains("live")`) {
		t.Fatal("the turnable picture did not start")
	}
	if eval[bool](t, ctx, `document.querySelector(".still").checkVisibility()`) {
		t.Error("the still picture is shown beside the turnable one")
	}
	s := look(t, ctx)
	if s.Share < 0.3 || s.Share > 0.95 || s.Colours < 12 {
		t.Errorf("the canvas is %.0f %% painted in %d colours", 100*s.Share, s.Colours)
	}
}

// pictureObeys tries keys, check boxes, the slider, the views and naming.
func pictureObeys(t *testing.T, ctx context.Context) {
	start := look(t, ctx)
	changed := func(what string, deeds ...deed) canvasState {
		t.Helper()
		run(t, ctx, deeds...)
		s := look(t, ctx)
		if s.like(start) {
			t.Errorf("%s changed nothing", what)
		}
		return s
	}
	same := func(what string, s canvasState) {
		t.Helper()
		for tries := 0; tries < 20 && !s.like(start); tries++ { // a busy machine may draw late
			s = look(t, ctx)
		}
		if !s.like(start) {
			t.Errorf("%s did not bring the picture back: off by %.1f, %.4f painted for %.4f; slider at %s", what, s.from(start), s.Share, start.Share,
				eval[string](t, ctx, `document.getElementById("apart").value + " " + document.activeElement.id`))
		}
	}
	run(t, ctx, do(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}}))
	run(t, ctx, chromedp.Focus(chromedp.CSS("#turnable")))
	changed("the arrow key", chromedp.KeyEvent(kb.ArrowLeft))
	changed("the plus key", chromedp.KeyEvent("+"))
	// Who asked for less motion gets the next frame, not a glide.
	eval[bool](t, ctx, `document.getElementById("turnable").dispatchEvent(new KeyboardEvent("keydown", {key: "0"})); `+painted)
	if !eval[canvasState](t, ctx, pixels).like(start) {
		t.Error("the key 0 did not bring the picture back at once")
	}
	few := changed("hiding the cells", chromedp.Click(chromedp.CSS(`input[data-group="0"]`)))
	if few.Share >= start.Share {
		t.Error("hiding the cells left as much painted")
	}
	run(t, ctx, chromedp.Click(chromedp.CSS(`input[data-group="0"]`)))
	same("showing the cells", look(t, ctx))
	changed("drawing apart", chromedp.Focus(chromedp.CSS("#apart")), chromedp.KeyEvent(kb.End))
	run(t, ctx, chromedp.KeyEvent(kb.Home))
	same("drawing together", look(t, ctx))
	changed("the view from the end", chromedp.Click(chromedp.CSS(`button[data-side="end"]`)))
	run(t, ctx, chromedp.Click(chromedp.CSS(`button[data-side="corner"]`)))
	same("the view from the corner", look(t, ctx))
	run(t, ctx, chromedp.Click(chromedp.CSS("#turnable")))
	if said := eval[string](t, ctx, `document.getElementById("picked").textContent`); !strings.HasPrefix(said, "This is ") {
		t.Errorf("a click in the middle of the picture said %q", said)
	}
	run(t, ctx, chromedp.Click(chromedp.CSS("#turnable")))
	same("a second click", look(t, ctx))
}

// partsOfThePage checks what a screen reader leans on.
func partsOfThePage(t *testing.T, ctx context.Context) {
	for what, script := range map[string]string{
		"one main landmark":           `document.querySelectorAll("main").length === 1`,
		"one banner":                  `document.querySelectorAll("body > header").length === 1`,
		"the other documents":         `!!document.querySelector("nav[aria-label]")`,
		"a language":                  `document.documentElement.lang === "en"`,
		"ids are unique":              `(() => { const a = [...document.querySelectorAll("[id]")].map(e => e.id); return new Set(a).size === a.length; })()`,
		"every input has a label":     `[...document.querySelectorAll("input")].every(i => i.labels.length === 1 && i.labels[0].textContent.trim() !== "")`,
		"every picture has a title":   `[...document.querySelectorAll("svg[role=img]")].every(s => s.querySelector("title") && s.querySelector("title").textContent !== "")`,
		"every figure has a caption":  `[...document.querySelectorAll("figure:not(ol.steps figure)")].every(f => f.querySelector("figcaption") && f.querySelector("figcaption").textContent.trim() !== "")`,
		"sections are named":          `[...document.querySelectorAll("section")].every(s => document.getElementById(s.getAttribute("aria-labelledby")))`,
		"links lead somewhere":        `[...document.querySelectorAll("a[href]")].every(a => /^(checks|forms).html$/.test(a.getAttribute("href")) || document.getElementById(a.getAttribute("href").slice(1)))`,
		"references lead somewhere":   `[...document.querySelectorAll("[aria-describedby],[aria-labelledby]")].every(e => document.getElementById(e.getAttribute("aria-describedby") || e.getAttribute("aria-labelledby")))`,
		"the canvas can be reached":   `document.getElementById("turnable").tabIndex === 0 && document.getElementById("turnable").getAttribute("aria-label") !== ""`,
		"ticks are kept for the next": `(() => { const b = document.getElementById("step-1"); b.click(); return localStorage.getItem("ticks " + document.documentElement.dataset.sheet) === '["step-1"]'; })()`,
	} {
		if !eval[bool](t, ctx, script) {
			t.Errorf("not so: %s", what)
		}
	}
}

// contrast lists every text whose contrast with the nearest painted background
// is under 4.5 (WCAG 2.1, 1.4.3). In pictures, a text with a halo counts
// against its halo, another against the page.
const contrast = `(() => {
 const ctx = document.createElement("canvas").getContext("2d", {willReadFrequently: true});
 const rgba = s => { ctx.clearRect(0,0,1,1); ctx.fillStyle = s; ctx.fillRect(0,0,1,1); return ctx.getImageData(0,0,1,1).data; };
 const lum = c => { const f = v => { v /= 255; return v <= 0.04045 ? v/12.92 : Math.pow((v+0.055)/1.055, 2.4); }; return 0.2126*f(c[0]) + 0.7152*f(c[1]) + 0.0722*f(c[2]); };
 const ground = e => { for (; e; e = e.parentElement) { const b = rgba(getComputedStyle(e).backgroundColor); if (b[3] === 255) return b; } return rgba("white"); };
 const bad = new Set(); let n = 0; const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
 while (walk.nextNode()) {
  const e = walk.currentNode.parentElement, s = getComputedStyle(e);
  if (!walk.currentNode.textContent.trim() || ["SCRIPT","STYLE","title"].includes(e.tagName) || !e.checkVisibility()) continue;
  const svg = e.tagName === "text"; n++;
  const fore = rgba(svg ? s.fill : s.color), back = svg && s.stroke !== "none" ? rgba(s.stroke) : ground(e);
  const a = lum(fore), b = lum(back), r = (Math.max(a,b)+0.05)/(Math.min(a,b)+0.05);
  if (r < 4.5) bad.add(r.toFixed(2) + " " + e.tagName + "." + (e.getAttribute("class")||"") + ": " + walk.currentNode.textContent.trim().slice(0,40));
 }
 return {n: n, bad: [...bad]}; })()`

func contrastSuffices(t *testing.T, ctx context.Context) {
	got := eval[struct {
		N   int      `json:"n"`
		Bad []string `json:"bad"`
	}](t, ctx, contrast)
	if got.N < 250 {
		t.Errorf("only %d texts were looked at", got.N)
	}
	for _, b := range got.Bad {
		t.Error(b)
	}
}

// wide lists what reaches beyond the page or out of a table.
const wide = `(() => { const w = document.documentElement.clientWidth, bad = [];
 if (document.documentElement.scrollWidth > w) bad.push("page " + document.documentElement.scrollWidth);
 for (const e of document.body.querySelectorAll("*")) {
  if (e.closest(".unseen, .skip, thead, defs") || e instanceof SVGElement && e.tagName !== "svg" || !e.checkVisibility()) continue;
  const r = e.getBoundingClientRect();
  if (r.right > w + 0.5 || r.left < -0.5) bad.push(e.tagName + "." + e.className + " from " + r.left + " to " + r.right);
 }
 for (const e of document.querySelectorAll("table, td, th, dd, dt, li, p, figure, figcaption")) {
  if (!e.closest(".unseen, thead") && e.checkVisibility() && e.scrollWidth > e.clientWidth + 1) bad.push(e.tagName + " is cut: " + e.textContent.trim().slice(0, 40) + " " + e.scrollWidth + " > " + e.clientWidth);
 }
 return bad; })()`

func fitsAcross(t *testing.T, ctx context.Context, w float64) {
	t.Helper()
	if got := eval[float64](t, ctx, "innerWidth"); got != w {
		t.Fatalf("the window is %g wide, not %g", got, w)
	}
	for _, b := range eval[[]string](t, ctx, wide) {
		t.Error(b)
	}
}

func stillShows(t *testing.T, ctx context.Context) {
	t.Helper()
	if !eval[bool](t, ctx, `(() => { const r = document.querySelector(".still").getBoundingClientRect(); return r.width > 200 && r.height > 100; })()`) {
		t.Error("the still picture is not shown")
	}
}

// printsWhole prints to PDF and reads the last words of the widest tables back.
func printsWhole(t *testing.T, ctx context.Context, wants ...string) {
	for name, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		b, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), name+".pdf")
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		text := outside.Run(t, "pdftotext", "-layout", path, "-")
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not on paper", name, want)
			}
		}
		if strings.Contains(text, "Drag to turn") || strings.Contains(text, "Seen from the corner") {
			t.Errorf("%s: what only a screen can do is on paper", name)
		}
	}
}

func TestHostilePageInABrowser(t *testing.T) {
	ctx := outside.Browser(t)
	url, _ := served(t, encodedAs(t, hostileSheet(), Card))
	heard := listen(t, ctx, url)
	run(t, ctx, chromedp.EmulateViewport(360, 800), chromedp.Navigate(url))
	if eval[bool](t, ctx, `"pwned" in window`) {
		t.Error("a name ran as script")
	}
	if n := eval[int](t, ctx, `document.querySelectorAll("img").length + document.scripts.length`); n != 2 {
		t.Errorf("%d pictures and scripts, want 2", n)
	}
	if !eval[bool](t, ctx, `document.querySelector("h1").textContent.includes("<img src=x")`) {
		t.Error("the title does not read as it was given")
	}
	t.Run("fits a phone", func(t *testing.T) { fitsAcross(t, ctx, 360) })
	for _, c := range heard.all() {
		t.Error(c)
	}
}

// waitForHidden is patience for a busy machine.
const waitForHidden = 3 * time.Minute

// With scripts off the still picture stands and everything else reads.
func TestScriptsOff(t *testing.T) {
	ctx := outside.Browser(t)
	url, _ := served(t, encodedAs(t, sampleSheet(), Card))
	run(t, ctx, do(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}),
		chromedp.EmulateViewport(800, 900), chromedp.Navigate(url))
	box, err := chromedp.Run(ctx, chromedp.Dimensions(chromedp.CSS(".still")))
	if err != nil {
		t.Fatal(err)
	}
	if box.Width < 600 || box.Height < 250 {
		t.Errorf("the still picture is %d x %d", box.Width, box.Height)
	}
	for _, hidden := range []string{"#turnable", "#apart"} {
		short, stop := context.WithTimeout(ctx, waitForHidden)
		if err := chromedp.Do(short, chromedp.WaitNotVisible(chromedp.CSS(hidden))); err != nil {
			t.Errorf("%s is shown without scripts", hidden)
		}
		stop()
	}
}

// Without WebGL the page keeps the still picture and does not complain.
func TestWithoutWebGL(t *testing.T) {
	ctx := outside.Browser(t, chromedp.Flag("disable-3d-apis", true))
	url, _ := served(t, encodedAs(t, sampleSheet(), Card))
	heard := listen(t, ctx, url)
	run(t, ctx, chromedp.EmulateViewport(800, 900), chromedp.Navigate(url))
	stillShows(t, ctx)
	if eval[bool](t, ctx, `document.querySelector(".live") !== null || document.getElementById("apart").checkVisibility()`) {
		t.Error("tools for a picture that cannot be turned")
	}
	for _, c := range heard.all() {
		t.Error(c)
	}
}
