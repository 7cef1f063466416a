package live

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"math"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"clampwright/export/page"
	"clampwright/params"
)

// server lets in who may and does what the page asks.
type server struct {
	*bench
	local net.Listener
	key   string // that the address on the console carries, and then the cookie
	done  chan struct{}
	pace  pace
	phone phone
	lan   func() (string, error) // the address that others on the network reach
}

// Server is a bench page that is served.
type Server struct{ s *server }

// Open reads the file, if there is one, and listens on this machine alone.
func Open(o Options) (*Server, error) {
	l, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", o.Port))
	if err != nil {
		return nil, err
	}
	b := &bench{Options: o, file: o.File, phase: asking}
	s := &server{bench: b, local: l, key: rand.Text(), done: make(chan struct{}), lan: ownAddress}
	b.doc.set("files", fill("files", nil))
	s.phoneHTML()
	if b.file == "" {
		b.doc.raise()
	} else {
		b.load("As the file was.")
	}
	return &Server{s}, nil
}

// URL is the page's address, with the key that lets one browser in.
func (v *Server) URL() string { return "http://" + v.s.local.Addr().String() + "/?key=" + v.s.key }

// Serve serves until ctx ends.
func (v *Server) Serve(ctx context.Context) error {
	s := v.s
	web := served(s.handler())
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	failed := make(chan error, 2)
	go func() { failed <- web.Serve(s.local) }()
	go func() {
		for ctx.Err() == nil { // until there is a file
			s.mu.Lock()
			file := s.file
			s.mu.Unlock()
			if file != "" {
				failed <- s.outside(ctx)
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	}()
	var err error
	select {
	case <-ctx.Done():
	case err = <-failed:
	}
	close(s.done)
	s.phone.end()
	s.mu.Lock()
	if s.cancel != nil {
		s.cancel()
	}
	s.mu.Unlock()
	end, stopEnd := context.WithTimeout(context.Background(), time.Second)
	defer stopEnd()
	_ = web.Shutdown(end) // what has not ended by then is cut off
	_ = web.Close()
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	return err
}

// Bounds on what is taken from a browser.
const (
	mostBody   = 16 << 10
	mostHeader = 16 << 10
)

// served bounds how long a client may take.
func served(h http.Handler) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: mostHeader}
}

// policy allows what this server gives and nothing else (W3C Content Security Policy 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// guard refuses a request that was not meant for this server or comes from another
// page, and bounds those that were: host is whom it is for.
func guard(host func(string) bool, pace *pace, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		for k, v := range map[string]string{"Content-Security-Policy": policy, "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin", "X-Frame-Options": "DENY", "Cache-Control": "no-store"} {
			h.Set(k, v)
		}
		site, reads := r.Header.Get("Sec-Fetch-Site"), r.Method == http.MethodGet
		origin := r.Header.Get("Origin")
		switch {
		case !host(r.Host): // a name that somebody else's server gave to this address
			http.Error(w, "this server is not called "+r.Host, http.StatusMisdirectedRequest)
		case !reads && r.Method != http.MethodPost:
			http.Error(w, "GET and POST only", http.StatusMethodNotAllowed)
		case origin != "" && origin != "http://"+r.Host, !reads && origin == "", site == "cross-site" || site == "same-site":
			http.Error(w, "another page may not ask this server", http.StatusForbidden)
		case !pace.take():
			http.Error(w, "too many requests; wait a moment", http.StatusTooManyRequests)
		default:
			r.Body = http.MaxBytesReader(w, r.Body, mostBody)
			next.ServeHTTP(w, r)
		}
	})
}

// pace bounds requests: so many at once, and so many a second.
type pace struct {
	mu   sync.Mutex
	used float64
	last time.Time
}

const paceBurst, pacePerSecond = 120, 40

func (p *pace) take() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := time.Now()
	p.used = max(0, p.used-now.Sub(p.last).Seconds()*pacePerSecond)
	p.last = now
	if p.used >= paceBurst {
		return false
	}
	p.used++
	return true
}

// same compares two secrets in a time that does not tell where they differ.
func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

func (s *server) handler() http.Handler {
	port := s.local.Addr().(*net.TCPAddr).Port
	mine := []string{fmt.Sprintf("127.0.0.1:%d", port), fmt.Sprintf("localhost:%d", port)}
	name := fmt.Sprintf("clampwright-%d", port) // cookies know no ports
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) { s.page(w) })
	mux.HandleFunc("GET /page.css", asset("text/css", page.Style(), "live.css"))
	mux.HandleFunc("GET /page.js", asset("text/javascript", page.Script(), "live.js"))
	mux.HandleFunc("GET /events", s.events)
	for path, do := range s.deeds() {
		mux.HandleFunc("POST "+path, answer(do))
	}
	return guard(func(h string) bool { return slices.Contains(mine, h) }, &s.pace, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if key := r.URL.Query().Get("key"); r.Method == http.MethodGet && r.URL.Path == "/" && same(key, s.key) {
			http.SetCookie(w, &http.Cookie{Name: name, Value: s.key, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
			http.Redirect(w, r, "/", http.StatusSeeOther)
			return
		}
		if c, err := r.Cookie(name); err != nil || !same(c.Value, s.key) {
			http.Error(w, "Open the address that the program printed where it was started: it carries the key to this page.", http.StatusForbidden)
			return
		}
		mux.ServeHTTP(w, r)
	}))
}

// asset serves a text of the documents with one of ours behind it.
func asset(kind, text, own string) http.HandlerFunc {
	b, err := assets.ReadFile("asset/" + own)
	return func(w http.ResponseWriter, _ *http.Request) {
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		w.Header().Set("Content-Type", kind+"; charset=utf-8")
		_, _ = w.Write([]byte(text + "\n" + string(b))) // who has left reads no error
	}
}

func (s *server) page(w http.ResponseWriter) {
	picture, err := page.Picture("The finished clamp; drag to turn it")
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	v := struct {
		Picture template.HTML
		Cells   []string
		Plates  []string
		Paths   []string
	}{Picture: picture, Paths: paths()}
	v.Cells, v.Plates = choices()
	_, _ = w.Write([]byte(fill("page", v)))
}

// paths are the keys that may be given.
func paths() (out []string) {
	for _, p := range params.Paths() {
		out = append(out, p.Path)
	}
	return out
}

// answer does what a page asks and says how it went.
func answer(do func(ctx context.Context, in ask) (string, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var in ask
		d := json.NewDecoder(r.Body)
		d.DisallowUnknownFields()
		if err := d.Decode(&in); err != nil {
			code := http.StatusBadRequest
			if _, large := errors.AsType[*http.MaxBytesError](err); large {
				code = http.StatusRequestEntityTooLarge
			}
			reply(w, code, "", err)
			return
		}
		// What is written is written, whether or not who asked waits for it.
		said, err := do(context.WithoutCancel(r.Context()), in)
		code := http.StatusOK
		if _, refused := errors.AsType[*refusal](err); refused {
			code = http.StatusUnprocessableEntity
		} else if err != nil {
			code = http.StatusInternalServerError
		}
		reply(w, code, said, err)
	}
}

func reply(w http.ResponseWriter, code int, said string, err error) {
	out := map[string]string{"said": said}
	if err != nil {
		out["error"] = err.Error()
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(code)
	_ = json.NewEncoder(w).Encode(out) // who has left reads no error
}

// ask is what a page asks.
type ask struct {
	Path   string  `json:"path"`
	Value  string  `json:"value"`
	Turn   int     `json:"turn"`
	Number int     `json:"number"`
	Start  answers `json:"start"`
	Read   reading `json:"read"`
	Code   string  `json:"code"`
}

type deed = func(ctx context.Context, in ask) (string, error)

// deeds are what the page may ask, by address.
func (s *server) deeds() map[string]deed {
	return map[string]deed{
		"/start": func(ctx context.Context, in ask) (string, error) { return "", s.first(ctx, in.Start) },
		"/set": func(ctx context.Context, in ask) (string, error) {
			return "", s.edit(ctx, "", change(in.Path, in.Value))
		},
		"/undo": func(ctx context.Context, in ask) (string, error) {
			return "", s.walk(ctx, func(at int) int { return at - 1 })
		},
		"/redo": func(ctx context.Context, in ask) (string, error) {
			return "", s.walk(ctx, func(at int) int { return at + 1 })
		},
		"/go": func(ctx context.Context, in ask) (string, error) {
			return "", s.walk(ctx, func(int) int { return in.Number })
		},
		"/turn": func(context.Context, ask) (string, error) {
			u, _ := s.since(math.MaxInt)
			return strconv.Itoa(u.Turn), nil
		},
		"/apply": s.apply,
		"/hold":  s.hold,
		"/write": s.write,
		"/read":  func(ctx context.Context, in ask) (string, error) { return s.note(ctx, in.Read) },
		"/phone": s.openPhone,
	}
}

// change writes what was typed at a path as it stands in the file.
func change(path, text string) params.Change {
	c := params.Change{Path: path, Value: strings.TrimSpace(text)}
	switch list := path == "rods.levels" || path == "rods.columns"; {
	case c.Value == "", list && strings.HasPrefix(c.Value, "["):
	case list:
		c.Value = "[" + c.Value + "]"
	default:
		c.Value = params.Word(c.Value)
	}
	return c
}

// now is the judgement of the text shown, where it is the one that the page has.
func (b *bench) now(turn int) (*judgement, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch {
	case b.turn != turn:
		return nil, &refusal{"the file has changed since; look at it anew"}
	case b.is == nil:
		return nil, &refusal{"it is not judged yet"}
	}
	return b.is, nil
}

// apply makes the changes of a repair.
func (s *server) apply(ctx context.Context, in ask) (string, error) {
	is, err := s.now(in.Turn)
	if err != nil {
		return "", err
	}
	all := is.job.Mended.Patches
	if in.Number < 0 || in.Number >= len(all) {
		return "", &refusal{"there is no such repair"}
	}
	return "", s.edit(ctx, "Repaired:", all[in.Number].Noted()...)
}

// hold puts what is shown beside, or takes away what is there.
func (s *server) hold(_ context.Context, in ask) (string, error) {
	var next *judgement
	if in.Value != "nothing" {
		var err error
		if next, err = s.now(in.Turn); err != nil {
			return "", err
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.held = next
	s.beside()
	s.doc.raise()
	return "", nil
}

// write writes the files of what is shown, which must be judged.
func (s *server) write(ctx context.Context, in ask) (string, error) {
	is, err := s.now(in.Turn)
	if err != nil {
		return "", err
	}
	said, err := s.Make(ctx, s.file, is.text)
	if err != nil {
		return "", &refusal{told(err)}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.made, s.wrote = is, said
	s.doc.set("files", fill("files", said))
	if s.is == is {
		s.doc.drop("moved")
	}
	s.doc.raise()
	return said, nil
}
