package live

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"clampwright/assembly/job"
	"clampwright/export/folder"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/words"
)

// phase is how far the answer to the text that is shown has come.
type phase string

const (
	asking    phase = "asking"    // there is no file yet
	computing phase = "computing" // what is shown is coarse, or not there yet
	judged    phase = "judged"
	broken    phase = "broken" // the text can't be read or computed
)

// bench is one parameter file with what is shown of it.
type bench struct {
	Options
	editing sync.Mutex // one edit at a time, from the text read to the text written

	mu     sync.Mutex // of all below
	file   string
	watch  Watch
	past   []moment
	at     int // which of past is shown
	turn   int // raised with every text to be computed
	cancel context.CancelFunc
	phase  phase
	is     *judgement // of the text shown; nil until it is judged
	was    *judgement // the one judged before it
	held   *judgement // put beside
	made   *judgement // whose files were written last; before that, the first one judged
	wrote  string     // what was written, in words
	like   int        // how many fixtures have shared their printed shapes
	doc    document
}

// moment is a text of the file, and in words how it came from the one before.
type moment struct {
	text []byte
	what string
}

// judgement is a text with the job that was computed of it in full.
type judgement struct {
	moment
	job *job.Job
}

// Bounds of the history: of texts, and of all their bytes.
const (
	mostMoments = 500
	mostBytes   = 16 << 20
)

// mostText is how much of a file is read; a parameter file may have less (params).
const mostText = 1 << 20

// read reads a file below the folder of the parameter file, which a name in it can't
// leave.
func (b *bench) read(name string) ([]byte, error) {
	root, err := os.OpenRoot(filepath.Dir(b.file))
	if err != nil {
		return nil, err
	}
	defer root.Close()
	if info, err := root.Stat(name); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no file", name)
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostText+1))
	if len(text) > mostText {
		err = fmt.Errorf("%s holds more than the %d bytes that are read of a file", name, mostText)
	}
	return text, err
}

// opener opens the readings that the file names, or what was learned.
func (b *bench) opener(name string) ([]byte, error) {
	number := 1
	if strings.EqualFold(filepath.Ext(name), ".yaml") {
		number = 2
	}
	b.watch.See(number, filepath.Join(filepath.Dir(b.file), name))
	return b.read(name)
}

// load reads the file anew and shows it; what says why, in the history.
func (b *bench) load(what string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.watch.See(0, b.file)
	text, err := b.read(filepath.Base(b.file))
	switch {
	case err != nil:
		b.stop(broken)
		b.doc.set("verdict", verdictHTML("fail", "No file", "The file can't be read: "+reason(err)+". What is shown is the last that was read; it is shown anew when the file is back."))
	case len(b.past) == 0 || !bytes.Equal(text, b.past[b.at].text):
		b.add(moment{text, what})
	default:
		b.show() // the readings beside it, or it is back
	}
}

// reason is an error without the path.
func reason(err error) string {
	if e, ok := errors.AsType[*os.PathError](err); ok {
		return e.Err.Error()
	}
	return err.Error()
}

// add puts a text behind the one shown, in the place of those that were undone, and
// shows it.
func (b *bench) add(m moment) {
	if len(b.past) > 0 {
		if changed := params.Changed(b.past[b.at].text, m.text); len(changed) > 0 {
			m.what = strings.TrimSpace(m.what + " " + few(changed, 3))
		}
		b.past = b.past[:b.at+1]
	}
	b.past = append(b.past, m)
	size := 0
	for i := len(b.past) - 1; i >= 0; i-- {
		if size += len(b.past[i].text); size > mostBytes || len(b.past)-i > mostMoments {
			b.past = slices.Clone(b.past[i+1:])
			break
		}
	}
	b.at = len(b.past) - 1
	b.show()
}

// stop ends the work on what was shown and says what is next.
func (b *bench) stop(next phase) {
	if b.cancel != nil {
		b.cancel()
	}
	b.turn++
	b.phase, b.doc.whole = next, false
	if b.is != nil {
		b.was = b.is
	}
	b.is = nil
	b.doc.raise()
}

// show computes the text at its place in the history.
func (b *bench) show() {
	b.stop(computing)
	ctx, cancel := context.WithCancel(context.Background())
	b.cancel = cancel
	b.doc.set("history", b.historyHTML())
	go b.compute(ctx, b.turn, b.past[b.at])
}

// few joins the first names and counts the others.
func few(names []string, most int) string {
	if len(names) <= most+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// refusal is an error that is the user's to mend, in words.
type refusal struct{ text string }

func (r *refusal) Error() string { return r.text }

// told is an error in words for the page.
func told(err error) string {
	if list, ok := errors.AsType[diag.List](err); ok {
		var out []string
		for _, d := range list {
			if d.Severity == diag.Error {
				d.Range = diag.Range{} // it stands at the value
				out = append(out, strings.TrimPrefix(d.Line(), "error: "))
			}
		}
		return few(out, 2)
	}
	return err.Error()
}

// edit makes changes in the file on disk and shows it.
func (b *bench) edit(ctx context.Context, what string, changes ...params.Change) error {
	return b.change(ctx, what, func(text []byte) ([]byte, error) {
		out, _, err := params.Set(filepath.Base(b.file), text, changes, b.opener)
		return out, err
	})
}

// change writes what becomes of the text that is shown, and shows it.
func (b *bench) change(ctx context.Context, what string, of func(text []byte) ([]byte, error)) error {
	b.editing.Lock()
	defer b.editing.Unlock()
	text, err := b.shown()
	if err != nil {
		return err
	}
	out, err := of(text)
	if err != nil {
		return &refusal{told(err)}
	}
	if bytes.Equal(out, text) {
		return nil
	}
	return b.put(ctx, text, out, func() { b.add(moment{out, what}) })
}

// shown is the text that is shown.
func (b *bench) shown() ([]byte, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.past) == 0 {
		return nil, &refusal{"there is no file yet"}
	}
	return b.past[b.at].text, nil
}

// put writes a text where the file still holds was, and then does what shows it.
func (b *bench) put(ctx context.Context, was, text []byte, show func()) error {
	err := folder.Replace(ctx, b.file, was, text)
	if errors.Is(err, folder.ErrChanged) {
		b.load("In an editor:")
		return &refusal{"the file was changed in an editor at the same moment; look at it and set this again"}
	}
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.watch.See(0, b.file)
	show()
	return nil
}

// walk goes to another place of the history.
func (b *bench) walk(ctx context.Context, to func(at int) int) error {
	b.editing.Lock()
	defer b.editing.Unlock()
	b.mu.Lock()
	at, n := b.at, len(b.past)
	place := to(at)
	if place < 0 || place >= n {
		b.mu.Unlock()
		return &refusal{"there is nothing further that way"}
	}
	was, text := b.past[at].text, b.past[place].text
	b.mu.Unlock()
	return b.put(ctx, was, text, func() {
		b.at = place
		b.show()
	})
}

// outside shows what is saved elsewhere, until ctx ends.
func (b *bench) outside(ctx context.Context) error {
	for {
		if err := b.watch.Wait(ctx); err != nil || ctx.Err() != nil {
			return err
		}
		b.load("In an editor:")
	}
}

// first writes the first file, of answers to the questions, under a name that is free.
func (b *bench) first(ctx context.Context, a answers) error {
	b.editing.Lock()
	defer b.editing.Unlock()
	if b.file != "" {
		return &refusal{"the first file is there already"}
	}
	o, changes, err := a.starter()
	if err != nil {
		return err
	}
	text, err := b.Starter(ctx, o, changes)
	if err != nil {
		return &refusal{told(err)}
	}
	name := ""
	for n := 1; name == "" || exists(name); n++ {
		name = filepath.Join(b.Folder, "pack"+words.First(map[bool]string{true: fmt.Sprintf("-%d", n)}[n > 1])+".yaml")
	}
	if err := folder.WriteFile(ctx, name, text); err != nil {
		return err
	}
	b.mu.Lock()
	b.file = name
	b.mu.Unlock()
	b.Say("wrote " + name)
	b.load("Written from the answers.")
	return nil
}

func exists(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}
