package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// stageMark is in the name of every temporary folder: .NAME.clampwright-XXXX
const stageMark = ".clampwright-"

func stagePrefix(target string) string { return "." + filepath.Base(target) + stageMark }

// stageParent is the folder in which the temporary folder is made: the one the
// output stands in, or, when a disk is mounted at the output, the output itself,
// because files can't be moved between disks in one step.
func stageParent(target string) string {
	parent := filepath.Dir(target)
	if onOtherDisk(parent, target) {
		return target
	}
	return parent
}

// begin makes the temporary folder beside target, after cleaning up what a
// killed run has left there. The parent is locked meanwhile, so that two runs
// that start together see each other.
func begin(target string) (*stage, error) {
	parent := stageParent(target)
	if p, err := os.Open(parent); err == nil {
		defer p.Close()
		lockSoon(p)
	}
	if err := cleanUp(target); err != nil {
		return nil, err
	}
	root, err := os.MkdirTemp(parent, stagePrefix(target)+"*")
	if err != nil {
		return nil, err
	}
	st := &stage{root: root}
	if st.held, err = os.Open(root); err == nil {
		_, err = lock(st.held)
	}
	if err == nil {
		err = os.Mkdir(st.new(""), 0o777)
	}
	if err != nil {
		_ = st.remove()
		return nil, err
	}
	return st, nil
}

// lockSoon waits up to a second for the lock on f. Who holds it longer is not
// one of ours, and then going on is better than hanging.
func lockSoon(f *os.File) {
	for range 50 {
		if held, err := lock(f); err != nil || !held {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// cleanUp undoes and removes what killed runs have left beside target. A
// temporary folder that is locked belongs to a run that is alive: ErrBusy.
func cleanUp(target string) error {
	parent := stageParent(target)
	entries, err := os.ReadDir(parent)
	if err != nil {
		return nil // a parent that can't be listed holds nothing we could clean
	}
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), stagePrefix(target)) {
			continue
		}
		if err := cleanOne(target, &stage{root: filepath.Join(parent, e.Name())}); err != nil {
			return err
		}
	}
	return nil
}

func cleanOne(target string, st *stage) error {
	f, err := os.Open(st.root)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	held, err := lock(f)
	if err != nil || held {
		_ = f.Close()
		if held {
			return fmt.Errorf("%w (%s; remove that if no run is alive)", ErrBusy, st.root)
		}
		return err
	}
	st.held = f
	if err := st.rollBack(target); err != nil {
		return err
	}
	return st.remove()
}
