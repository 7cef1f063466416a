package params

import (
	"fmt"
	"path/filepath"
)

// Rebase changes the paths of files that a parameter file names, so that a copy of
// its text in another folder finds the same files: those that are relative to
// folder from become relative to folder to. All else stays as it stands. It fails
// on a text that does not decode, and where no path leads from to to the file.
func Rebase(name string, text []byte, from, to string) ([]byte, error) {
	in, diags := Decode(name, text)
	if diags.HasErrors() {
		return nil, diags
	}
	var changes []Change
	for _, k := range []struct {
		key  string
		file wordV
	}{{"electrical.records", in.Electrical.Records}, {"cell.learned", in.Cell.Learned}} {
		key, file := k.key, k.file
		if !file.Set || filepath.IsAbs(file.V) {
			continue
		}
		there, err := filepath.Abs(filepath.Join(from, file.V))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", key, err)
		}
		base, err := filepath.Abs(to)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", key, err)
		}
		path, err := filepath.Rel(base, there)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", key, err)
		}
		changes = append(changes, Change{Path: key, Value: Word(filepath.ToSlash(path))})
	}
	return Edit(name, text, changes)
}
