//go:build unix

package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
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

// openTab opens an address beside what a browser shows.
func openTab(t *testing.T, browser context.Context, url string) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser)
	t.Cleanup(stop)
	b := &tab{t: t, ctx: ctx}
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
		if eval[bool](b, "Promise.resolve("+script+").then(Boolean)") {
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

// choose fills a field of the questions; each counts as one thing done.
func (b *tab) choose(name, value string) {
	b.t.Helper()
	b.did++
	eval[bool](b, fmt.Sprintf(`(function () { var f = document.getElementById("questions").elements[%q]; f.value = %q; f.dispatchEvent(new Event("change")); return f.value === %q; })()`, name, value, value))
}

// verdict is what the page says of the text shown.
func (b *tab) verdict() string {
	return eval[string](b, `(document.querySelector("#verdict .verdict") || {className: ""}).className.replace("verdict ", "")`)
}

// checked is what the command says of a file.
func checked(t *testing.T, file string) string {
	t.Helper()
	var out bytes.Buffer
	code := run(t.Context(), []string{"clampwright", "check", "--json", file}, &console{out: &out, err: io.Discard})
	if code == exitInput {
		return "broken"
	}
	var report struct{ Verdict string }
	if err := json.Unmarshal(out.Bytes(), &report); err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	return report.Verdict
}

// The bench page in a real browser: what a hand does there, and what becomes of the file.
func TestServe(t *testing.T) {
	if os.Getenv(outside.Required) != "1" {
		t.Skip("skipped: takes minutes; " + outside.Required + "=1 runs it")
	}
	browser := outside.Browser(t, chromedp.Flag("js-flags", "--expose-gc"), chromedp.Flag("enable-precise-memory-info", true))
	for _, c := range []struct {
		name string
		test func(*testing.T, context.Context)
	}{
		{"first run", testFirstRun}, {"edit, fail, repair, undo", testRepair}, {"two pages and an editor", testTwoPages},
		{"killed and started", testKilled}, {"by keys, by names, on paper", testAccess}, {"random edits", testRandomEdits},
	} {
		t.Run(c.name, func(t *testing.T) { c.test(t, browser) })
	}
}

// From nothing to a pack that passes, without a file being touched.
func testFirstRun(t *testing.T, browser context.Context) {
	s := serveText(t, "")
	b := openTab(t, browser, s.url())
	b.await("questions", `!document.getElementById("questions").hidden`)
	b.look("questions", 1280, 900, "light")
	b.choose("Cells", "8")
	b.choose("Cell", "54x174x200")
	b.choose("Wrapped", "yes")
	b.choose("Sheet", "force")
	b.choose("Force", "300 kgf")
	b.choose("Tolerance", "60 kgf")
	b.click("#questions button")
	b.judged("")
	if b.verdict() == "fail" || b.did > 12 {
		t.Errorf("%s after %d things done: %s", b.verdict(), b.did, b.text("#verdict"))
	}
	if v := checked(t, filepath.Join(s.dir, "pack.yaml")); v != b.verdict() {
		t.Errorf("check says %s", v)
	}
	b.click("[data-do=write]")
	b.await("files", `document.getElementById("files").innerText.indexOf("build-sheet.html") > 0`)
	var errs bytes.Buffer
	if code := run(t.Context(), []string{"clampwright", "make", "--out", filepath.Join(s.dir, "same"), filepath.Join(s.dir, "pack.yaml")}, &console{out: io.Discard, err: &errs}); code != exitDone {
		t.Fatal(errs.String())
	}
	below := func(dir string) map[string][]byte {
		out := map[string][]byte{}
		for name, text := range contents(t, filepath.Join(s.dir, dir)) {
			out[strings.TrimPrefix(name, filepath.Join(s.dir, dir))] = text
		}
		return out
	}
	sameContents(t, below("same"), below("out"))
}

// A change that fails, the repair that is proved, and back again; a value given back; two
// states side by side.
func testRepair(t *testing.T, browser context.Context) {
	s := serveText(t, example(t, "four-cell-offcut"))
	was := example(t, "four-cell-offcut")
	b := openTab(t, browser, s.url())
	b.judged("")
	b.await("steps", `document.querySelector("#steps svg")`)
	for _, c := range []struct {
		name   string
		w, h   int64
		scheme string
	}{{"wide", 1280, 1600, "light"}, {"dark", 1280, 1000, "dark"}, {"phone", 360, 1400, "light"}, {"twice", 640, 1000, "light"}} {
		b.look(c.name, c.w, c.h, c.scheme)
	}
	b.click("[data-do=hold]")
	eval[bool](b, `(function () { var f = document.getElementById("more"); f.elements.path.value = "springs"; f.elements.value.value = "none"; f.requestSubmit(); return true; })()`)
	b.judged("1")
	if b.verdict() != "fail" {
		t.Fatalf("locked nuts: %s", b.text("#verdict"))
	}
	b.await("repairs", `document.querySelector("#repairs [data-do=apply]")`)
	b.await("beside", `document.querySelectorAll("#beside .map").length === 2`)
	b.look("fails", 1280, 2600, "light")
	turn := b.turn()
	b.click("#repairs [data-do=apply]")
	b.judged(turn)
	if v := checked(t, s.file); v == "fail" || v != b.verdict() {
		t.Errorf("repaired: the page says %s, check %s", b.verdict(), v)
	}
	b.look("repaired", 1280, 1600, "light")
	repaired, turn := slurp(t, s.file), b.turn()
	b.click("[data-do=undo]")
	b.judged(turn)
	turn = b.turn()
	b.click("[data-do=undo]")
	b.judged(turn)
	if got := slurp(t, s.file); got != was || b.verdict() != "pass" {
		t.Errorf("undone twice: %s\n%s", b.verdict(), got)
	}
	turn = b.turn()
	b.click("#history [data-do=go]")
	b.await("another", `document.documentElement.dataset.shown.split(" ")[0] !== "`+turn+`"`)
	b.judged(turn)
	if got := slurp(t, s.file); got != repaired {
		t.Errorf("gone to the latest:\n%s", got)
	}
	turn = b.turn()
	b.click("[data-do=undo]")
	b.judged(turn)
	turn = b.turn()
	b.click("[data-do=undo]")
	b.judged(turn)
	turn = b.turn()
	b.set("stiffeners.length", "9 in") // taken over
	b.judged(turn)
	if got := slurp(t, s.file); !strings.Contains(got, "length: 9 in") {
		t.Errorf("taken over:\n%s", got)
	}
	turn = b.turn()
	b.await("given", `document.querySelector('.val.given[data-path="stiffeners.length"]')`)
	eval[bool](b, `document.querySelector('.val[data-path="stiffeners.length"]').click(), Array.from(document.querySelectorAll(".now-edit button")).filter(function (n) { return n.textContent === "Give back"; })[0].click(), true`)
	b.judged(turn)
	if got := slurp(t, s.file); strings.Contains(got, "length: 9 in") {
		t.Errorf("given back:\n%s", got)
	}
	b.set("plates.thickness", "a lot")
	b.await("refused", `document.querySelector(".now-edit .wrong").textContent.indexOf("thickness") >= 0 || document.querySelector(".now-edit .wrong").textContent.length > 5`)
	b.look("typed", 1280, 900, "light")
}

func slurp(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Two pages show the same, whichever changes it, as does what an editor saves.
func testTwoPages(t *testing.T, browser context.Context) {
	s := serveText(t, watchedFile)
	a := openTab(t, browser, s.url())
	b := openTab(t, browser, s.url())
	a.judged("")
	b.judged("")
	a.set("plates.corner_radius", "3 mm")
	a.judged("1")
	b.judged("1")
	text := slurp(t, s.file)
	writeFile(t, s.file, strings.Replace(text, "thickness: 18", "thickness: 15", 1))
	turn := b.turn()
	a.judged(turn)
	b.judged(turn)
	for _, p := range []*tab{a, b} {
		p.await("all of it", `document.documentElement.dataset.whole === "true"`)
		if got := strings.ReplaceAll(p.text(`#given .val[data-path="plates.thickness"]`), "\u00a0", " "); got != "15 mm" {
			t.Errorf("the page has %q", got)
		}
		if got := p.text("#history"); !strings.Contains(got, "In an editor") {
			t.Error(got)
		}
	}
	if x, y := a.text("main"), b.text("main"); x != y {
		t.Error("the pages differ")
	}
}

// A server that is killed while it is asked leaves the file whole, and one that is
// started again shows it.
func testKilled(t *testing.T, browser context.Context) {
	dir := t.TempDir()
	file := filepath.Join(dir, "pack.yaml")
	writeFile(t, file, watchedFile)
	start := func() (*exec.Cmd, string) {
		cmd := program("serve", "--no-browser", file)
		out, err := cmd.StdoutPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		line, err := bufio.NewReader(out).ReadString('\n')
		if err != nil {
			t.Fatal(err)
		}
		return cmd, strings.TrimSpace(line)
	}
	cmd, url := start()
	b := openTab(t, browser, url)
	b.judged("")
	b.set("plates.corner_radius", "3 mm")
	time.Sleep(20 * time.Millisecond)
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = cmd.Wait()
	b.await("away", `!document.getElementById("away").hidden`)
	text := slurp(t, file)
	if text != watchedFile && !strings.Contains(text, "corner_radius: 3 mm") {
		t.Fatalf("the file is neither:\n%s", text)
	}
	cmd, url = start()
	defer func() { _ = cmd.Process.Kill(); _ = cmd.Wait() }()
	c := openTab(t, browser, url)
	c.judged("")
	c.await("all of it", `document.documentElement.dataset.whole === "true"`)
	if got := strings.ReplaceAll(c.text(`#given .val[data-path="plates.corner_radius"]`), "\u00a0", " "); (got == "3 mm") != strings.Contains(text, "corner_radius: 3 mm") {
		t.Error("the page shows another text than the file has")
	}
	c.set("plates.corner_radius", "5 mm")
	c.judged("1")
	if got := slurp(t, file); !strings.Contains(got, "corner_radius: 5 mm") {
		t.Errorf("%s", got)
	}
}

// By keys alone; every value has a name for who does not see it; nothing is wider than a
// phone or a page at 200 %; nothing is printed before it is judged; and the picture turns
// while all is computed anew.
func testAccess(t *testing.T, browser context.Context) {
	s := serveText(t, example(t, "four-cell-offcut"))
	b := openTab(t, browser, s.url())
	b.judged("")
	b.await("steps", `document.documentElement.dataset.whole === "true"`)
	if n := eval[int](b, `Array.from(document.querySelectorAll(".val")).filter(function (v) { return v.tabIndex !== 0 || v.getAttribute("role") !== "button" || !/change it$/.test(v.getAttribute("aria-label")); }).length`); n > 0 {
		t.Errorf("%d values have no name or can't be reached", n)
	}
	if n := eval[int](b, `Array.from(document.querySelectorAll("#given tbody tr")).filter(function (r) { return !r.querySelector(".val"); }).length`); n > 0 {
		t.Errorf("%d values can't be typed anew", n)
	}
	if n := eval[int](b, `Array.from(document.querySelectorAll("button, input, select")).filter(function (n) { return !(n.textContent.trim() || n.getAttribute("aria-label") || (n.labels && n.labels.length)); }).length`); n > 0 {
		t.Errorf("%d fields or buttons have no name", n)
	}
	for _, w := range []int64{1280, 640, 360} {
		b.seen(w, 900, "light")
		if over := eval[int](b, `document.documentElement.scrollWidth - window.innerWidth`); over > 0 {
			t.Errorf("%d px wide, %d too many: %s", w, over, eval[string](b, `Array.from(document.querySelectorAll("body *")).filter(function (n) { return n.getBoundingClientRect().right > window.innerWidth + 1 && n.clientWidth; }).slice(0, 5).map(function (n) { return n.tagName + "." + n.className + "#" + n.id; }).join(" ")`))
		}
	}
	b.seen(1280, 900, "light")
	// The key that opens is sent without the letter, which a browser leaves out where the key did something.
	eval[bool](b, `(function () { var v = document.querySelector('.val[data-path="plates.thickness"]'); v.focus(); v.dispatchEvent(new KeyboardEvent("keydown", {key: "Enter", bubbles: true})); return true; })()`)
	b.do(chromedp.KeyEvent("5/8 in"), chromedp.KeyEvent("\r"))
	turns := eval[float64](b, `new Promise(function (done) {
		var c = document.getElementById("turnable"), n = 0, from = performance.now();
		(function frame(now) {
			c.dispatchEvent(new KeyboardEvent("keydown", {key: "ArrowLeft"}));
			if (now - from > 1000) { done(1000 * n / (now - from)); return; }
			n++;
			requestAnimationFrame(frame);
		})(from);
	})`)
	t.Logf("the picture turns %.0f times a second while it is computed; the first answer came after %s ms", turns, eval[string](b, `document.documentElement.dataset.took || "?"`))
	b.judged("1")
	if got := slurp(t, s.file); !strings.Contains(got, "thickness: 5/8 in") {
		t.Errorf("by keys:\n%s", got)
	}
	if at := eval[string](b, `document.activeElement.dataset.path || document.activeElement.tagName`); at != "plates.thickness" {
		t.Errorf("the focus is lost to %s", at)
	}
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		return err
	}))
	seen := func(id string) bool {
		return eval[bool](b, `getComputedStyle(document.getElementById("`+id+`")).display !== "none"`)
	}
	b.await("whole", `document.documentElement.dataset.whole === "true"`)
	if !seen("card") || seen("unjudged") || seen("history") {
		t.Error("on paper is not the card alone")
	}
	eval[bool](b, `document.documentElement.dataset.whole = "false", true`)
	if seen("card") || !seen("unjudged") {
		t.Error("a coarse answer is printed")
	}
}

// tries are what random edits type: what is good, what fails, what is refused, and giving
// back.
var tries = map[string][]string{
	"plates.thickness": {"12 mm", "15 mm", "1/2 in", "21", "27 mm", "", "3 mm", "5 km"}, "plates.material": {"birch plywood", "hdpe", "6061-T6", "cheese"},
	"plates.width": {"", "260 mm", "300 mm", "100 mm"}, "plates.height": {"", "180 mm", "200 mm"}, "pack.cells": {"2", "3", "4", "0"},
	"rods.thread": {"M6", "M8", "M10", "5/16-18"}, "rods.level_count": {"2", "3", ""}, "rods.clearance": {"", "8 mm", "14 mm", "1 mm"},
	"cell.force": {"300 kgf", "2 kN", "250 kgf"}, "cell.force_tolerance": {"60 kgf", "40 kgf", ""}, "springs": {"none", ""}, "springs.ends": {"both", "one", ""},
	"stiffeners.angle": {"40x40x4 mm aluminium", "30x30x3 mm aluminium", ""}, "clamp.years": {"5", "10", "20", ""}, "cell.case": {"live", "insulated"},
	"fixture": {"one", "two: #3"}, "separators.thickness": {"0.5 mm", "1 mm", ""}, "washers.series": {"large", "standard", ""},
}

// After each of many edits the page and the command say the same of the file, and neither
// the server nor the page grows.
func testRandomEdits(t *testing.T, browser context.Context) {
	edits := 30
	if n, err := strconv.Atoi(os.Getenv("CLAMPWRIGHT_EDITS")); err == nil {
		edits = n
	}
	s := serveText(t, watchedFile)
	b := openTab(t, browser, s.url())
	b.judged("")
	rng := rand.New(rand.NewPCG(20, 1))
	paths := slices.Sorted(maps.Keys(tries))
	heap := func() (server, page float64) {
		server = math.Inf(1)
		for range 30 { // a search for repairs may still run: what it holds is no growth
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			server = min(server, float64(m.HeapAlloc)/(1<<20))
			time.Sleep(200 * time.Millisecond)
		}
		return server, eval[float64](b, `gc(), performance.memory.usedJSHeapSize / 1048576`)
	}
	var server, inPage float64
	shown := map[string]int{}
	for n := range edits {
		path := paths[rng.IntN(len(paths))]
		value := tries[path][rng.IntN(len(tries[path]))]
		switch n % 7 { // a fixture that fails for a while
		case 3:
			path, value = "springs", "none"
		case 5:
			path, value = "springs", ""
		}
		do := fmt.Sprintf(`post("set", {path: %q, value: %q})`, path, value)
		if rng.IntN(6) == 0 && path != "springs" {
			do = fmt.Sprintf(`post(%q, {})`, []string{"undo", "redo"}[rng.IntN(2)])
		}
		said := eval[string](b, `(function () { function post(to, body) { return fetch("/" + to, {method: "POST", body: JSON.stringify(body)}).then(function (r) { return r.text(); }); } return `+do+`; })()`)
		b.await("the answer to "+do, `fetch("/turn", {method: "POST", body: "{}"}).then(function (r) { return r.json(); }).then(function (a) { var d = document.documentElement.dataset; return d.shown.split(" ")[0] === a.said && (d.phase === "judged" || d.phase === "broken"); })`)
		page := b.verdict()
		if eval[string](b, `document.documentElement.dataset.phase`) == "broken" {
			page = "broken"
		}
		shown[page]++
		if v := checked(t, s.file); v != page {
			t.Fatalf("edit %d, %s: %s\nthe page says %s, check %s, of\n%s", n, do, said, page, v, slurp(t, s.file))
		}
		if n == min(20, edits/2) {
			server, inPage = heap()
		}
	}
	s2, p2 := heap()
	t.Logf("%d edits: %v; heap of the server %.0f, then %.0f MB; of the page %.0f, then %.0f MB", edits, shown, server, s2, inPage, p2)
	if edits >= 10 && (shown["fail"] == 0 || shown["pass"] == 0) {
		t.Error("they are all alike")
	}
	if s2 > 1.5*server+60 || p2 > 1.5*inPage+20 {
		t.Error("memory grows")
	}
}
