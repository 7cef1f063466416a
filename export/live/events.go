package live

import (
	"encoding/json"
	"html/template"
	"net/http"
	"slices"
	"time"
)

// document is what the page shows, in pieces, each with the count at which it last
// changed. Its bench's lock guards it.
type document struct {
	count  int
	pieces map[string]piece
	order  []string // of the card's sections
	values template.HTML
	whole  bool // all of it is of the text shown
	wake   map[chan struct{}]bool
}

type piece struct {
	html template.HTML
	at   int
}

// apart are the pieces that are not sections of the card.
var apart = []string{"title", "verdict", "moved", "repairs", "beside", "summary", "scene", "still", "values", "history", "files", "phone"}

func (d *document) set(id string, html template.HTML) {
	if d.pieces == nil {
		d.pieces = map[string]piece{}
	}
	if was, there := d.pieces[id]; !there || was.html != html {
		d.pieces[id] = piece{html, d.count + 1}
	}
}

// drop empties pieces.
func (d *document) drop(ids ...string) {
	for _, id := range ids {
		d.set(id, "")
	}
}

// keep empties the sections that are not in the order; the steps come later.
func (d *document) keep() {
	if !slices.Contains(d.order, "steps") {
		at := slices.Index(d.order, "clamp")
		d.order = slices.Insert(d.order, max(at, 0), "steps")
	}
	for id := range d.pieces {
		if !slices.Contains(apart, id) && !slices.Contains(d.order, id) {
			delete(d.pieces, id)
		}
	}
}

// raise tells every browser that something changed.
func (d *document) raise() {
	d.set("values", d.values)
	d.count++
	for c := range d.wake {
		select {
		case c <- struct{}{}:
		default: // it has not looked since it was last told
		}
	}
}

// Bounds on browsers that listen: how many, how long one may take to receive what is
// sent, and how long it is quiet at most.
const (
	mostListeners = 24
	mostSend      = 10 * time.Second
	mostQuiet     = 15 * time.Second
)

// update is what a browser is told.
type update struct {
	Turn   int               `json:"turn"`
	Phase  phase             `json:"phase"`
	Whole  bool              `json:"whole"`
	Order  []string          `json:"order"`
	Pieces map[string]string `json:"pieces"`
}

// since is what changed after a count, with the count now.
func (b *bench) since(count int) (update, int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	u := update{b.turn, b.phase, b.doc.whole, slices.Clone(b.doc.order), map[string]string{}}
	for id, p := range b.doc.pieces {
		if p.at > count {
			u.Pieces[id] = string(p.html)
		}
	}
	return u, b.doc.count
}

// events tells a browser of every change as a server-sent event (HTML Living Standard,
// 9.2), until it leaves or does not take what is sent. What it misses is not kept for
// it: it is sent the pieces as they are when it takes them.
func (s *server) events(w http.ResponseWriter, r *http.Request) {
	c := make(chan struct{}, 1)
	s.mu.Lock()
	full := len(s.doc.wake) >= mostListeners
	if s.doc.wake == nil {
		s.doc.wake = map[chan struct{}]bool{}
	}
	if !full {
		s.doc.wake[c] = true
	}
	s.mu.Unlock()
	if full {
		http.Error(w, "too many browsers listen", http.StatusServiceUnavailable)
		return
	}
	defer func() {
		s.mu.Lock()
		delete(s.doc.wake, c)
		s.mu.Unlock()
	}()
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	count := 0
	for first := true; ; first = false {
		u, now := s.since(count)
		b, err := json.Marshal(u)
		if err == nil {
			err = out.SetWriteDeadline(time.Now().Add(mostSend))
		}
		if err == nil && (first || now != count) {
			_, err = w.Write(append(append([]byte("data: "), b...), "\n\n"...))
		} else if err == nil {
			_, err = w.Write([]byte(": still here\n\n"))
		}
		if err == nil {
			err = out.Flush()
		}
		if err != nil {
			return
		}
		count = now
		select {
		case <-c:
		case <-r.Context().Done():
			return
		case <-s.done:
			return
		case <-time.After(mostQuiet):
		}
	}
}
