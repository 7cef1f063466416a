// Package folder writes a set of artifacts into one output folder, all or
// nothing: every file is made and flushed to disk in a temporary folder beside
// the output, and only then swapped in. A list inside the output folder names
// the files this program wrote; those that a later run no longer makes go away,
// and files of anybody else are left alone and named.
package folder

import (
	"fmt"
	"io"
	"regexp"
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

// Contents is everything one run puts into the output folder. The zero value is an
// empty plan.
type Contents struct {
	Artifacts []Artifact
	// Started, when not nil, is called before each artifact, in their order.
	Started func(name string)
	// Ours, when not nil, says of a listed file by its content whether this program
	// can have written it: a list alone can have been put there by anybody.
	Ours func(name string, content []byte) bool
}

// Add appends an artifact.
func (p *Contents) Add(name string, encode func(io.Writer) error) {
	p.Artifacts = append(p.Artifacts, Artifact{name, encode})
}

// Bytes is an Encode for content that is already there.
func Bytes(b []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(b)
		return err
	}
}

// check refuses plans that can't be written on every system: bad names, two names
// that differ in case only, a file that is also a folder.
func (p Contents) check() error {
	files, folders := map[string]string{}, map[string]bool{}
	for _, a := range p.Artifacts {
		key := strings.ToLower(a.Name)
		if err := CheckName(a.Name); err != nil {
			return err
		} else if other, ok := files[key]; ok {
			return fmt.Errorf("%w: %q and %q are the same file", ErrName, other, a.Name)
		}
		files[key] = a.Name
		foldersOf(key, folders)
	}
	for key, name := range files {
		if folders[key] {
			return fmt.Errorf("%w: %q is a file and a folder", ErrName, name)
		}
	}
	return nil
}

// maxNameBytes leaves room for the folder on systems with 260.
const maxNameBytes = 200

var (
	plainName = regexp.MustCompile(`^([A-Za-z0-9_]([A-Za-z0-9_.-]{0,98}[A-Za-z0-9_-])?(/|$))*$`)
	// deviceName is a file name that one common system keeps for devices.
	deviceName = regexp.MustCompile(`(?i)(^|/)(con|prn|aux|nul|com[1-9]|lpt[1-9])(\.|/|$)`)
)

// CheckName reports what keeps name from being an artifact's name. A name is a
// relative path of ASCII letters, digits, '-', '_' and '.' between slashes; no
// part begins with '.' or '-', ends with '.', is longer than 100, or is a device
// name.
func CheckName(name string) error {
	switch {
	case name == "" || len(name) > maxNameBytes || !plainName.MatchString(name) || strings.HasSuffix(name, "/"):
		return fmt.Errorf("%w: %q is not of 1 to %d letters, digits, '-', '_' and '.' with '/' between", ErrName, name, maxNameBytes)
	case deviceName.MatchString(name):
		return fmt.Errorf("%w: %q uses a device name", ErrName, name)
	}
	return nil
}
