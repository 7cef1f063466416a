// Package folder writes a set of artifacts into one output folder, all or
// nothing: every file is made and flushed to disk in a temporary folder beside
// the output, and only then swapped in. A list inside the output folder names
// the files this program wrote; those that a later run no longer makes go away,
// and files of anybody else are left alone and named.
package folder

import (
	"fmt"
	"io"
	"strings"
)

// Artifact is one file to write.
type Artifact struct {
	// Name is the path below the output folder, with slashes.
	Name string
	// Encode writes the content. It may run beside other artifacts' Encode and
	// must write the same bytes each time.
	Encode func(io.Writer) error
}

// Plan is everything one run puts into the output folder. The zero value is an
// empty plan.
type Plan struct {
	Artifacts []Artifact
	// Started, when not nil, is called as each artifact begins, one call at a
	// time, in no fixed order.
	Started func(name string)
}

// Add appends an artifact.
func (p *Plan) Add(name string, encode func(io.Writer) error) {
	p.Artifacts = append(p.Artifacts, Artifact{name, encode})
}

// Bytes is an Encode for content that is already there.
func Bytes(b []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(b)
		return err
	}
}

// check refuses plans that can't be written on every system: bad names, an
// artifact without an encoder, two names that differ in case only, a file that
// is also a folder.
func (p Plan) check() error {
	files, folders := map[string]string{}, map[string]string{}
	for _, a := range p.Artifacts {
		if err := CheckName(a.Name); err != nil {
			return err
		}
		if a.Encode == nil {
			return fmt.Errorf("%w: %q has no encoder", ErrName, a.Name)
		}
		key := strings.ToLower(a.Name)
		if other, ok := files[key]; ok {
			return fmt.Errorf("%w: %q and %q are the same file", ErrName, other, a.Name)
		}
		files[key] = a.Name
		for i, c := range key {
			if c == '/' {
				folders[key[:i]] = a.Name
			}
		}
	}
	for key, name := range files {
		if other, ok := folders[key]; ok {
			return fmt.Errorf("%w: %q is a file and the folder of %q", ErrName, name, other)
		}
	}
	return nil
}

const (
	maxNameBytes    = 200 // leaves room for the folder on systems with 260
	maxSegmentBytes = 100
)

// reserved are file names that one common system keeps for devices.
var reserved = map[string]bool{
	"con": true, "prn": true, "aux": true, "nul": true,
	"com1": true, "com2": true, "com3": true, "com4": true, "com5": true,
	"com6": true, "com7": true, "com8": true, "com9": true,
	"lpt1": true, "lpt2": true, "lpt3": true, "lpt4": true, "lpt5": true,
	"lpt6": true, "lpt7": true, "lpt8": true, "lpt9": true,
}

// CheckName reports what keeps name from being an artifact's name. A name is a
// relative path of ASCII letters, digits, '-', '_' and '.' between slashes; no
// segment begins with '.' or '-', ends with '.', or is a device name.
func CheckName(name string) error {
	if name == "" || len(name) > maxNameBytes {
		return fmt.Errorf("%w: %q has %d characters, want 1 to %d", ErrName, name, len(name), maxNameBytes)
	}
	for segment := range strings.SplitSeq(name, "/") {
		if why := segmentProblem(segment); why != "" {
			return fmt.Errorf("%w: %q %s", ErrName, name, why)
		}
	}
	return nil
}

func segmentProblem(s string) string {
	if s == "" {
		return "has an empty part"
	}
	if len(s) > maxSegmentBytes {
		return "has a part that is too long"
	}
	for _, c := range []byte(s) {
		plain := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !plain && c != '-' && c != '_' && c != '.' {
			return fmt.Sprintf("holds the character %q", rune(c))
		}
	}
	if s[0] == '.' || s[0] == '-' || s[len(s)-1] == '.' {
		return "has a part that begins with '.' or '-' or ends with '.'"
	}
	if stem, _, _ := strings.Cut(strings.ToLower(s), "."); reserved[stem] {
		return "uses a device name"
	}
	return ""
}
