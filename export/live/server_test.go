package live

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"net/http/cookiejar"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"clampwright/params"
)

const pack = `# cells of our own
fixture: pair
cell: {model: 36x130x200, case: insulated, force: 200 kgf, force_tolerance: 60 kgf, force_limit: 600 kgf}
pack: {cells: 2}
plates:
  material: birch plywood
  thickness: 15      # at hand
`

// bed is a page that is served to a test.
type bed struct {
	*testing.T
	s    *Server
	file string
	said chan string
	web  *http.Client
}

func serveBed(t *testing.T) *bed {
	t.Helper()
	b := &bed{T: t, file: filepath.Join(t.TempDir(), "pack.yaml"), said: make(chan string, 10)}
	if err := os.WriteFile(b.file, []byte(pack), 0o644); err != nil {
		t.Fatal(err)
	}
	b.open(Options{File: b.file})
	return b
}

func (b *bed) open(o Options) {
	b.Helper()
	o.Say = func(s string) { b.said <- s }
	o.Make = func(context.Context, string, []byte) (string, error) { return "written", nil }
	o.Starter = func(context.Context, params.StarterOptions, []params.Change) ([]byte, error) {
		return []byte(pack), nil
	}
	var err error
	if b.s, err = Open(o); err != nil {
		b.Fatal(err)
	}
	b.s.s.lan = func() (string, error) { return "127.0.0.1", nil }
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- b.s.Serve(ctx) }()
	b.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			b.Error(err)
		}
	})
	jar, _ := cookiejar.New(nil)
	b.web = &http.Client{Jar: jar, Timeout: 5 * time.Minute}
	if r, err := b.web.Get(b.s.URL()); err != nil || r.StatusCode != http.StatusOK {
		b.Fatal(r, err)
	}
}

func (b *bed) home() string {
	url, _, _ := strings.Cut(b.s.URL(), "?")
	return url
}

// ask sends a request, changed by with, and returns how it was answered.
func (b *bed) ask(c *http.Client, method, url, body string, with func(*http.Request)) (int, string) {
	b.Helper()
	r, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		b.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Origin", strings.TrimSuffix(url[:strings.Index(url[8:], "/")+8], "/"))
	}
	if with != nil {
		with(r)
	}
	a, err := c.Do(r)
	if err != nil {
		b.Fatal(err)
	}
	defer a.Body.Close()
	text, _ := io.ReadAll(a.Body)
	return a.StatusCode, string(text)
}

func (b *bed) text() string {
	text, err := os.ReadFile(b.file)
	if err != nil {
		b.Fatal(err)
	}
	return string(text)
}

const thinner = `{"path": "plates.thickness", "value": "12 mm"}`

// Who is not the page that was opened from the console is refused, and the file stays.
func TestRefused(t *testing.T) {
	b := serveBed(t)
	stranger := &http.Client{Timeout: 2 * time.Minute}
	header := func(k, v string) func(*http.Request) { return func(r *http.Request) { r.Header.Set(k, v) } }
	for _, c := range []struct {
		what, method, path, body string
		web                      *http.Client
		with                     func(*http.Request)
		code                     int
	}{
		{"no token", "GET", "", "", stranger, nil, 403},
		{"no token", "GET", "events", "", stranger, nil, 403},
		{"no token", "POST", "set", thinner, stranger, nil, 403},
		{"a wrong token", "GET", "?key=ABCDEFGHIJKLMNOPQRSTUVWXYZ", "", stranger, nil, 403},
		{"a wrong cookie", "POST", "set", thinner, stranger, func(r *http.Request) {
			r.AddCookie(&http.Cookie{Name: "clampwright-" + r.URL.Port(), Value: "x"})
		}, 403},
		{"another origin", "POST", "set", thinner, b.web, header("Origin", "http://example.org"), 403},
		{"another port of this machine", "POST", "set", thinner, b.web, header("Origin", "http://127.0.0.1:1"), 403},
		{"no origin", "POST", "set", thinner, b.web, func(r *http.Request) { r.Header.Del("Origin") }, 403},
		{"the origin null", "POST", "set", thinner, b.web, header("Origin", "null"), 403},
		{"another origin that reads", "GET", "events", "", b.web, header("Origin", "http://example.org"), 403},
		{"a script of another site", "GET", "events", "", b.web, header("Sec-Fetch-Site", "cross-site"), 403},
		{"a script of another port", "GET", "events", "", b.web, header("Sec-Fetch-Site", "same-site"), 403},
		{"a host that was bound anew", "GET", "", "", b.web, func(r *http.Request) { r.Host = "bench.example.org" }, 421},
		{"a host that was bound anew", "POST", "set", thinner, b.web, func(r *http.Request) { r.Host = "bench.example.org:80" }, 421},
		{"a path out of it", "GET", "../pack.yaml", "", b.web, nil, 404},
		{"a path out of it", "GET", "%2e%2e/%2e%2e/etc/passwd", "", b.web, nil, 404},
		{"a file beside it", "GET", "pack.yaml", "", b.web, nil, 404},
		{"a method", "PUT", "set", thinner, b.web, nil, 405},
		{"a change by GET", "GET", "set", "", b.web, nil, 405},
		{"a body too large", "POST", "set", `{"path": "` + strings.Repeat("x", mostBody) + `"}`, b.web, nil, 413},
		{"no JSON", "POST", "set", `path=plates.thickness`, b.web, nil, 400},
		{"an unknown key", "POST", "set", `{"pth": "x"}`, b.web, nil, 400},
		{"an unknown path", "POST", "set", `{"path": "plates.thikness", "value": "12 mm"}`, b.web, nil, 422},
		{"a path with a line in it", "POST", "set", `{"path": "plates.thickness: 1\nx", "value": "12 mm"}`, b.web, nil, 422},
		{"a value out of its limits", "POST", "set", `{"path": "plates.thickness", "value": "1 km"}`, b.web, nil, 422},
		{"a value with a line in it", "POST", "set", `{"path": "plates.thickness", "value": "12 mm\npack: {cells: 9}"}`, b.web, nil, 422},
		{"readings outside the folder", "POST", "set", `{"path": "electrical.records", "value": "../../../etc/passwd"}`, b.web, nil, 422},
		{"readings by a whole path", "POST", "set", `{"path": "electrical.records", "value": "/etc/passwd"}`, b.web, nil, 422},
		{"a repair of another text", "POST", "apply", `{"turn": 99}`, b.web, nil, 422},
		{"files of another text", "POST", "write", `{"turn": 99}`, b.web, nil, 422},
		{"nothing to undo", "POST", "undo", `{}`, b.web, nil, 422},
		{"a place that is not there", "POST", "go", `{"number": -1}`, b.web, nil, 422},
		{"a first file", "POST", "start", `{"start": {}}`, b.web, nil, 422},
	} {
		code, said := b.ask(c.web, c.method, b.home()+c.path, c.body, c.with)
		if code != c.code {
			t.Errorf("%s: %d, wanted %d: %s", c.what, code, c.code, said)
		}
		if strings.Contains(said, "root:") || strings.Contains(said, "fixture:") {
			t.Errorf("%s: a file is given: %s", c.what, said)
		}
	}
	if b.text() != pack {
		t.Errorf("the file was changed:\n%s", b.text())
	}
	if code, said := b.ask(b.web, "POST", b.home()+"set", thinner, nil); code != 200 {
		t.Errorf("the page itself: %d %s", code, said)
	}
	if want := strings.Replace(pack, "  thickness: 15      # at hand", "  # was: thickness: 15      # at hand\n  thickness: 12 mm", 1); b.text() != want {
		t.Errorf("one line with its comment should have changed:\n%s", b.text())
	}
}

// What is not in the policy is not allowed to the page, and nothing of it is kept.
func TestHeaders(t *testing.T) {
	b := serveBed(t)
	r, err := b.web.Get(b.home())
	if err != nil {
		t.Fatal(err)
	}
	text, _ := io.ReadAll(r.Body)
	p := r.Header.Get("Content-Security-Policy")
	if !strings.HasPrefix(p, "default-src 'none'; ") || strings.Contains(p, "unsafe") || strings.Contains(p, "*") || r.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("%v", r.Header)
	}
	if strings.Contains(string(text), "<style") || strings.Contains(string(text), "style=") || strings.Contains(string(text), " on") && strings.Contains(string(text), "onclick=") {
		t.Error("the page asks for what its policy forbids")
	}
	if strings.Contains(string(text), b.s.s.key) {
		t.Error("the key stands in the page")
	}
}

// A client that does not end its headers is cut off, as is one that takes no events;
// the page is served meanwhile.
func TestSlowClient(t *testing.T) {
	b := serveBed(t)
	c, err := net.Dial("tcp", b.s.s.local.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprintf(c, "GET / HTTP/1.1\r\nHost: %s\r\n", b.s.s.local.Addr())
	if code, _ := b.ask(b.web, "GET", b.home(), "", nil); code != 200 {
		t.Errorf("%d while another is slow", code)
	}
	_ = c.SetReadDeadline(time.Now().Add(20 * time.Second))
	start := time.Now()
	if _, err := io.ReadAll(c); err != nil || time.Since(start) > 15*time.Second {
		t.Errorf("not cut off: %v after %v", err, time.Since(start))
	}
}

// No more browsers may listen than are borne, and no more requests are taken at once.
func TestTooMany(t *testing.T) {
	b := serveBed(t)
	full := false
	for i := range mostListeners + 1 {
		r, err := b.web.Get(b.home() + "events")
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		full = full || i == mostListeners && r.StatusCode == 503
	}
	if !full {
		t.Error("there is no end of listeners")
	}
	slow := 0
	for range paceBurst * 2 {
		if code, _ := b.ask(b.web, "GET", b.home()+"none", "", nil); code == 429 {
			slow++
		}
	}
	if slow == 0 {
		t.Error("there is no end of requests")
	}
}

// told reads events until one that is wanted.
func (b *bed) told(wanted func(update) bool) update {
	b.Helper()
	r, err := b.web.Get(b.home() + "events")
	if err != nil {
		b.Fatal(err)
	}
	defer r.Body.Close()
	in := bufio.NewReaderSize(r.Body, 8<<20)
	all := map[string]string{}
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			b.Fatal(errors.Join(errors.New("what is wanted never came"), err))
		}
		var u update
		if data, ok := strings.CutPrefix(line, "data: "); ok {
			if err := json.Unmarshal([]byte(data), &u); err != nil {
				b.Fatal(err)
			}
			maps.Copy(all, u.Pieces)
			if u.Pieces = all; wanted(u) {
				return u
			}
		}
	}
}

// A visitor for readings can add one with the code, which serves once, and nothing else.
func TestVisitor(t *testing.T) {
	b := serveBed(t)
	if code, said := b.ask(b.web, "POST", b.home()+"phone", `{}`, nil); code != 200 || strings.Contains(said, "http://") {
		t.Fatalf("%d %s", code, said)
	}
	line := <-b.said
	url := line[strings.Index(line, "http://"):]
	url = url[:strings.Index(url, " ")]
	code := line[strings.Index(line, "the code ")+9:][:codeDigits]
	if !strings.Contains(line, "not encrypted") {
		t.Error(line)
	}
	jar, _ := cookiejar.New(nil)
	guest := &http.Client{Jar: jar, Timeout: 2 * time.Minute}
	const read = `{"read": {"What": "stack", "When": "snug", "Value": "73.1 mm"}}`
	post := func(path, body string, want int) {
		t.Helper()
		if got, said := b.ask(guest, "POST", url+path, body, nil); got != want {
			t.Errorf("%s %s: %d, wanted %d: %s", path, body, got, want, said)
		}
	}
	post("read", read, 403) // no code yet
	post("code", `{"code": "x"}`, 422)
	post("code", `{"code": "`+code+`"}`, 200)
	for _, path := range []string{"set", "undo", "write", "apply", "go", "start", "hold", "phone"} {
		post(path, thinner, 404)
	}
	if got, _ := b.ask(guest, "GET", url+"events", "", nil); got != 404 {
		t.Errorf("a visitor listens: %d", got)
	}
	if got, _ := b.ask(guest, "POST", b.home()+"set", thinner, nil); got != 403 {
		t.Errorf("a visitor edits: %d", got)
	}
	if got, _ := b.ask(guest, "POST", url+"read", read, func(r *http.Request) { r.Host = "elsewhere.example.org" }); got != 421 {
		t.Errorf("a host that was bound anew: %d", got)
	}
	post("read", `{"read": {"What": "stack", "Value": "a lot"}}`, 422)
	if b.text() != pack {
		t.Fatalf("the file was changed:\n%s", b.text())
	}
	post("read", `{"read": {"What": "stack", "Value": "73.1 mm", "Instrument": "tape"}}`, 200)
	if text := b.text(); !strings.HasPrefix(text, pack) || !strings.Contains(text, "{what: stack, value: 73.1 mm, instrument: tape}") {
		t.Errorf("%s", text)
	}
	other := &http.Client{Timeout: 2 * time.Minute}
	if got, _ := b.ask(other, "POST", url+"code", `{"code": "`+code+`"}`, nil); got != 422 {
		t.Errorf("the code serves twice: %d", got)
	}
	if got, _ := b.ask(b.web, "POST", b.home()+"phone", `{"value": "nothing"}`, nil); got != 200 {
		t.Error("it can't be ended")
	}
	if _, err := guest.Get(url); err == nil {
		t.Error("it goes on")
	}
}

// A code that is guessed at is void.
func TestVisitorGuesses(t *testing.T) {
	b := serveBed(t)
	b.ask(b.web, "POST", b.home()+"phone", `{}`, nil)
	line := <-b.said
	url := line[strings.Index(line, "http://"):]
	url = url[:strings.Index(url, " ")]
	code := line[strings.Index(line, "the code ")+9:][:codeDigits]
	guest := &http.Client{Timeout: 2 * time.Minute}
	for range mostWrong {
		b.ask(guest, "POST", url+"code", `{"code": "no"}`, nil)
	}
	if got, _ := b.ask(guest, "POST", url+"code", `{"code": "`+code+`"}`, nil); got != 422 {
		t.Errorf("the code serves after %d guesses: %d", mostWrong, got)
	}
}

// What is saved elsewhere is shown and stands in the history; a change at the same
// moment is not lost.
func TestOutside(t *testing.T) {
	b := serveBed(t)
	b.told(func(u update) bool { return u.Phase == judged })
	if err := os.WriteFile(b.file, []byte(strings.Replace(pack, "15 ", "18 ", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, said := b.ask(b.web, "POST", b.home()+"set", `{"path": "plates.corner_radius", "value": "3 mm"}`, nil); code != 422 || !strings.Contains(said, "in an editor") {
		t.Errorf("%d %s", code, said)
	}
	u := b.told(func(u update) bool { return u.Phase == judged && strings.Contains(u.Pieces["history"], "In an editor") })
	if !strings.Contains(u.Pieces["history"], "plates.thickness: 15") {
		t.Error(u.Pieces["history"])
	}
	if err := os.WriteFile(b.file, []byte("pack: {cells: two}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	u = b.told(func(u update) bool { return u.Phase == broken })
	if !strings.Contains(u.Pieces["verdict"], "pack.yaml:1:") {
		t.Error(u.Pieces["verdict"])
	}
	if code, said := b.ask(b.web, "POST", b.home()+"undo", `{}`, nil); code != 200 {
		t.Errorf("%d %s", code, said)
	}
	b.told(func(u update) bool { return u.Phase == judged })
	if !strings.Contains(b.text(), "thickness: 18 ") {
		t.Errorf("%s", b.text())
	}
	if err := os.Remove(b.file); err != nil {
		t.Fatal(err)
	}
	b.told(func(u update) bool { return u.Phase == broken })
	if err := os.WriteFile(b.file, []byte(pack), 0o644); err != nil {
		t.Fatal(err)
	}
	b.told(func(u update) bool { return u.Phase == judged })
}

// A coarse answer is never a verdict, and nothing is written of it.
func TestCoarseIsNoVerdict(t *testing.T) {
	b := serveBed(t)
	u := b.told(func(u update) bool { return u.Phase == judged })
	for n := range 5 {
		b.ask(b.web, "POST", b.home()+"set", fmt.Sprintf(`{"path": "plates.corner_radius", "value": "%d mm"}`, n+1), nil)
		code, said := b.ask(b.web, "POST", b.home()+"write", fmt.Sprintf(`{"turn": %d}`, u.Turn+n+1), nil)
		is, _ := b.s.s.since(0)
		if is.Phase == computing && (code != 422 || strings.Contains(is.Pieces["verdict"], "Fit") || strings.Contains(is.Pieces["verdict"], "Passes")) {
			t.Errorf("%d %s: %s", code, said, is.Pieces["verdict"])
		}
	}
	u = b.told(func(u update) bool { return u.Phase == judged })
	if code, said := b.ask(b.web, "POST", b.home()+"write", fmt.Sprintf(`{"turn": %d}`, u.Turn), nil); code != 200 || !strings.Contains(said, "written") {
		t.Errorf("%d %s", code, said)
	}
}
