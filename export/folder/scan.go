package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// earlier is what the output folder holds before a run.
type earlier struct {
	exists  bool
	listed  bool     // the list is there
	own     []string // files of ours that are still there, sorted
	edited  []string // those whose content is not what we wrote
	foreign []string // topmost entries that are not ours; folders end in '/'
}

// scan looks at dir and refuses a plan that would have to replace something
// that is not ours.
func scan(dir string, plan Plan) (earlier, error) {
	info, err := os.Stat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return earlier{}, nil
	}
	if err != nil {
		return earlier{}, err
	}
	if !info.IsDir() {
		return earlier{}, fmt.Errorf("%w: %s", ErrNotFolder, dir)
	}
	l, err := readList(dir)
	if err != nil {
		return earlier{}, err
	}
	s := &scanner{dir: dir, listed: map[string]string{}, wanted: map[string]bool{}, folders: map[string]bool{}}
	s.out.exists = true
	for _, f := range l.Files {
		s.listed[f.Name] = f.SHA256
		s.addFolders(f.Name)
	}
	for _, a := range plan.Artifacts {
		s.wanted[a.Name] = true
		s.addFolders(a.Name)
	}
	if err := s.walk(""); err != nil {
		return earlier{}, err
	}
	slices.Sort(s.out.own)
	slices.Sort(s.out.edited)
	slices.Sort(s.out.foreign)
	return s.out, s.inTheWay()
}

// scanner walks the folders that hold, or will hold, our files; others are
// foreign as a whole.
type scanner struct {
	dir     string
	listed  map[string]string // name to hash
	wanted  map[string]bool
	folders map[string]bool
	blocked []string
	out     earlier
}

func (s *scanner) addFolders(name string) {
	for i, c := range name {
		if c == '/' {
			s.folders[name[:i]] = true
		}
	}
}

func (s *scanner) walk(below string) error {
	entries, err := os.ReadDir(filepath.Join(s.dir, filepath.FromSlash(below)))
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := e.Name()
		if below != "" {
			name = below + "/" + name
		}
		if err := s.entry(name, e); err != nil {
			return err
		}
	}
	return nil
}

func (s *scanner) entry(name string, e fs.DirEntry) error {
	hash, ours := s.listed[name]
	switch {
	case name == ListName:
		s.out.listed = true
	case e.IsDir() && strings.HasPrefix(name, stagePrefix(s.dir)):
		// our own temporary folder, where a disk is mounted at the output
	case e.IsDir() && s.folders[name]:
		return s.walk(name)
	case ours && e.Type().IsRegular():
		return s.own(name, hash)
	default:
		s.foreign(name, e.IsDir())
	}
	return nil
}

func (s *scanner) own(name, hash string) error {
	s.out.own = append(s.out.own, name)
	got, err := fileHash(filepath.Join(s.dir, filepath.FromSlash(name)))
	if err != nil {
		return err
	}
	if got != hash {
		s.out.edited = append(s.out.edited, name)
	}
	return nil
}

func (s *scanner) foreign(name string, isDir bool) {
	if s.wanted[name] || s.folders[name] {
		s.blocked = append(s.blocked, name)
	}
	if isDir {
		name += "/"
	}
	s.out.foreign = append(s.out.foreign, name)
}

// inTheWay is an error that names the foreign entries whose place we need.
func (s *scanner) inTheWay() error {
	if len(s.blocked) == 0 {
		return nil
	}
	slices.Sort(s.blocked)
	return fmt.Errorf("%w: %s (not written by this program; move it or choose another folder)",
		ErrForeign, strings.Join(s.blocked, ", "))
}

func fileHash(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
