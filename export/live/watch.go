package live

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"slices"
	"sync"
	"syscall"
	"time"
)

// pollTime is how often the files are looked at, settleTime how long they must have
// been left alone before they are read: editors write in several steps. Looking
// misses nothing when folders are removed and made anew, when many things happen
// at once, or on disks that tell of no change.
const (
	pollTime   = 100 * time.Millisecond
	settleTime = 200 * time.Millisecond
)

// Watch tells when files are saved: those that See was told of, each under a number.
// It is safe for concurrent use.
type Watch struct {
	mu   sync.Mutex
	seen []sighting
}

// sighting is what a look at a file tells: another one of it is another save.
type sighting struct {
	name string      // "" is no file
	info fs.FileInfo // nil: not there
}

func (s sighting) same(o sighting) bool {
	a, b := s.info, o.info
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

func sight(name string) (s sighting, err error) {
	if s.name = name; name != "" {
		s.info, err = os.Stat(name)
	}
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		err = nil
	}
	return s, err
}

// See notes how a file is before it is read; there says whether it is. An empty name
// is of no file.
func (w *Watch) See(number int, name string) (there bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for len(w.seen) <= number {
		w.seen = append(w.seen, sighting{})
	}
	w.seen[number], _ = sight(name)
	return w.seen[number].info != nil
}

// look sights every file; seen says whether all are as See saw them.
func (w *Watch) look() (now []sighting, seen bool, err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, s := range w.seen {
		s, sightErr := sight(s.name)
		now, err = append(now, s), errors.Join(err, sightErr)
	}
	return now, slices.EqualFunc(now, w.seen, sighting.same), err
}

// Wait returns when the files are others than those seen and have been left alone,
// or when ctx has ended; with an error when they can't be looked at.
func (w *Watch) Wait(ctx context.Context) error {
	tick := time.NewTicker(pollTime)
	defer tick.Stop()
	var last []sighting
	for since := time.Now(); ; {
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
		}
		now, seen, err := w.look()
		if !slices.EqualFunc(now, last, sighting.same) {
			last, since = now, time.Now()
		}
		if err != nil || !seen && time.Since(since) >= settleTime {
			return err
		}
	}
}
