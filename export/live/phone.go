package live

import (
	"context"
	"crypto/rand"
	"fmt"
	"math/big"
	"net"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/params"
)

// phone lets a visitor on the same network add readings, and nothing else, while the
// user allows it. It is a server of its own, which has no other addresses.
type phone struct {
	mu    sync.Mutex
	code  string // to be typed once; empty when used or used up
	wrong int    // codes typed in vain
	key   string // the cookie of who typed it
	url   string
	close func()
	pace  pace
}

// mostWrong is how many wrong codes make the code void.
const mostWrong = 5

// codeDigits is the length of the code: of a million, five are tried at most.
const codeDigits = 6

// reading is what a visitor adds.
type reading struct{ What, Where, When, Value, Instrument, Date, Charge string }

// note adds a reading to the file and says what all of them tell.
func (b *bench) note(ctx context.Context, r reading) (string, error) {
	var f *params.Fixture
	err := b.change(ctx, "Read:", func(text []byte) (out []byte, err error) {
		out, f, err = params.AddReadings(filepath.Base(b.file), text, []params.Added{{"what": r.What, "where": strings.TrimSpace(r.Where), "when": r.When,
			"value": strings.TrimSpace(r.Value), "instrument": r.Instrument, "date": r.Date, "charge": strings.TrimSpace(r.Charge)}}, b.opener)
		return out, err
	})
	if err != nil || f == nil {
		return "", err
	}
	j, err := job.Read(f)
	if err != nil || j.Estimate == nil || !slices.ContainsFunc(f.Readings, params.Reading.AtClamp) {
		return "Noted.", nil // the page says what is wrong with the fixture
	}
	return "Noted. " + strings.Join(tell.Answer(j, j.Estimate.Answer()), " "), nil
}

// openPhone listens on the network with a new code, which stands on the console only;
// asked for nothing, it ends that.
func (s *server) openPhone(_ context.Context, in ask) (string, error) {
	s.phone.end()
	if in.Value == "nothing" {
		s.phoneHTML()
		return "", nil
	}
	host, err := s.lan()
	if err != nil {
		return "", &refusal{"this machine has no address on a network: " + err.Error()}
	}
	l, err := net.Listen("tcp", net.JoinHostPort(host, "0"))
	if err != nil {
		return "", err
	}
	s.phone.serve(l, s.note)
	s.Say(fmt.Sprintf("readings from a phone: open %s and type the code %s. It works once. The traffic is not encrypted: whoever is on this network can read it.", s.phone.url, s.phone.code))
	s.phoneHTML()
	return "The address and the code stand where the program was started.", nil
}

// phoneHTML says on the page whether readings are taken from elsewhere.
func (s *server) phoneHTML() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.doc.set("phone", fill("phone-piece", s.phone.address()))
	s.doc.raise()
}

func (p *phone) address() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.url
}

// end stops what is served.
func (p *phone) end() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.close != nil {
		p.close()
	}
	p.close, p.code, p.key, p.url = nil, "", "", ""
}

// ownAddress is this machine's address on the network that others on it are reached by.
func ownAddress() (string, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return "", err
	}
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsPrivate() && n.IP.To4() != nil {
			return n.IP.String(), nil
		}
	}
	return "", fmt.Errorf("none of its %d addresses is private", len(all))
}

func (p *phone) serve(l net.Listener, note func(context.Context, reading) (string, error)) {
	p.mu.Lock()
	defer p.mu.Unlock()
	n, err := rand.Int(rand.Reader, big.NewInt(1_000_000))
	if err != nil {
		n = new(big.Int)
	}
	p.code, p.wrong, p.key = fmt.Sprintf("%0*d", codeDigits, n), 0, ""
	if err != nil {
		p.code = "" // no code that can be guessed
	}
	p.url = "http://" + l.Addr().String() + "/"
	host := l.Addr().String()
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte(fill("phone", struct {
			In    bool
			What  []string
			When  []string
			Tools []string
		}{p.known(r), info("readings", "what"), info("readings", "when"), info("readings", "instrument")})))
	})
	mux.HandleFunc("GET /page.css", asset("text/css", page.Style(), "live.css"))
	mux.HandleFunc("GET /page.js", asset("text/javascript", "", "phone.js"))
	mux.HandleFunc("POST /code", p.admit)
	mux.HandleFunc("POST /read", func(w http.ResponseWriter, r *http.Request) {
		if !p.known(r) {
			http.Error(w, "type the code first", http.StatusForbidden)
			return
		}
		answer(func(ctx context.Context, in ask) (string, error) { return note(ctx, in.Read) })(w, r)
	})
	web := served(guard(func(h string) bool { return h == host }, &p.pace, mux))
	p.close = func() { _ = web.Close() }
	go func() { _ = web.Serve(l) }() // until it is closed
}

// known says whether a request is of who typed the code.
func (p *phone) known(r *http.Request) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	c, err := r.Cookie("clampwright-readings")
	return err == nil && p.key != "" && same(c.Value, p.key)
}

// admit lets in who types the code, once.
func (p *phone) admit(w http.ResponseWriter, r *http.Request) {
	answer(func(_ context.Context, in ask) (string, error) {
		p.mu.Lock()
		defer p.mu.Unlock()
		if p.code == "" {
			return "", &refusal{"the code was used; ask for a new one on the bench page"}
		}
		if !same(strings.TrimSpace(in.Code), p.code) {
			if p.wrong++; p.wrong >= mostWrong {
				p.code = ""
			}
			time.Sleep(300 * time.Millisecond)
			return "", &refusal{"that is not the code"}
		}
		p.code, p.key = "", rand.Text()
		http.SetCookie(w, &http.Cookie{Name: "clampwright-readings", Value: p.key, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
		return "Come in.", nil
	})(w, r)
}

// info are the words that a key of a list's items takes.
func info(list, key string) []string {
	return slices.Clone(params.ItemWords(list, key))
}
