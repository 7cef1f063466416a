package export

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"io"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"clampwright/export/folder"
	"clampwright/export/number"
)

// VariantsDir is the folder of the variants below the output folder, and
// SharedDir that of the part files they share.
const (
	VariantsDir = "variants"
	SharedDir   = "shared"
)

// Batch collects the files of many fixtures made from one parameter file. Part
// files are kept by their content: however many fixtures use a part, its file
// stands once in variants/shared, and every report and build sheet names it
// there. The rest of a fixture stands in variants/NAME. Safe for concurrent use.
type Batch struct {
	mu    sync.Mutex
	files map[string][]byte // below VariantsDir
	rows  map[string][]string
}

// NewBatch returns an empty batch.
func NewBatch() *Batch { return &Batch{files: map[string][]byte{}, rows: map[string][]string{}} }

// Add makes every file of one fixture. The job is not needed afterwards.
func (b *Batch) Add(name string, j *Job, o Options) error {
	o.Elsewhere = b.share
	plan, err := j.Plan(o)
	if err != nil {
		return err
	}
	made := map[string][]byte{}
	for _, a := range plan.Artifacts {
		var w bytes.Buffer
		if err := a.Encode(&w); err != nil {
			return err
		}
		made[name+"/"+a.Name] = w.Bytes()
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	maps.Copy(b.files, made)
	b.rows[name] = summaryRow(name, j)
	return nil
}

// share keeps a part file under a name with its content's hash.
func (b *Batch) share(name string, encode func(io.Writer) error) (string, error) {
	var w bytes.Buffer
	if err := encode(&w); err != nil {
		return "", err
	}
	sum := sha256.Sum256(w.Bytes())
	ext := path.Ext(name)
	at := SharedDir + "/" + strings.TrimSuffix(name, ext) + "-" + hex.EncodeToString(sum[:])[:10] + ext
	b.mu.Lock()
	defer b.mu.Unlock()
	b.files[at] = w.Bytes()
	return "../" + at, nil
}

// summaryHead names the columns of the summary.
var summaryHead = []string{"variant", "verdict", "cells", "rows", "stack_mm", "rod_mm", "pack_mass_g", "force_least_n", "force_greatest_n", "fails"}

func summaryRow(name string, j *Job) []string {
	f := j.Fixture
	least, most := 0.0, 0.0
	for i, s := range j.Clamp.States {
		if i == 0 || s.ForceN < least {
			least = s.ForceN
		}
		most = max(most, s.ForceN)
	}
	var fails []string
	for _, c := range j.Checks() {
		if c.Verdict == Fail && !slices.Contains(fails, c.ID) {
			fails = append(fails, c.ID)
		}
	}
	return []string{
		name, string(j.Verdict()), number.Trim(float64(f.Pack.Cells), 0), number.Trim(float64(f.Pack.Rows), 0), number.Trim(f.Pack.StackLength.MM(), 2),
		number.Trim(f.Rods.Length.MM(), 2), number.Mass.Text(j.Assembly.PackMassG()), number.Force.Text(least), number.Force.Text(most), strings.Join(fails, " "),
	}
}

// Rows is the summary: a line for every fixture added, by name.
func (b *Batch) Rows() (head []string, rows [][]string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, name := range slices.Sorted(maps.Keys(b.rows)) {
		rows = append(rows, b.rows[name])
	}
	return summaryHead, rows
}

// Into adds all files and the summary to a plan, in order of their names.
func (b *Batch) Into(p *folder.Plan) {
	head, rows := b.Rows()
	for _, name := range slices.Sorted(maps.Keys(b.files)) {
		p.Add(VariantsDir+"/"+name, folder.Bytes(b.files[name]))
	}
	p.Add(VariantsDir+"/summary.csv", func(w io.Writer) error {
		c := csv.NewWriter(w)
		_ = c.Write(head)
		_ = c.WriteAll(rows)
		return c.Error()
	})
}

// Shared is the number of distinct part files.
func (b *Batch) Shared() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	n := 0
	for name := range b.files {
		if strings.HasPrefix(name, SharedDir+"/") {
			n++
		}
	}
	return n
}
