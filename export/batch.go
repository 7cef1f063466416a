package export

import (
	"bytes"
	"cmp"
	"compress/flate"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html"
	"io"
	"maps"
	"math"
	"path"
	"slices"
	"strings"
	"sync"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/folder"
	"clampwright/export/lists"
	"clampwright/export/mark"
	"clampwright/export/shop"
	"clampwright/params/number"
)

// VariantsDir is the folder of the variants below the output folder, and
// SharedDir that of the files they share.
const (
	VariantsDir = "variants"
	SharedDir   = "shared"
)

// Batch collects the files of many fixtures made from one parameter file. Files
// are kept by their content, packed. What the base fixture has too stands there
// only; a file of a part stands once in variants/shared, and so does any other
// that two fixtures have alike; the rest of a fixture stands in variants/NAME.
// Reports and build sheets name every file where it stands, which is known when
// all fixtures are in: until then they hold its mark. Safe for concurrent use.
type Batch struct {
	order []string // of the rows

	mu       sync.Mutex
	contents map[string]*content // by the hash of what is in them
	pages    map[string][]packed // by fixture: what names other files
	rows     map[string][]string
	shared   int // files in SharedDir
}

// content is what one file or several alike hold.
type content struct {
	packed []byte
	part   bool // a part's own file
	uses   []use
}

// use is a fixture's file of some content, and the mark that stands for its name
// in the fixture's pages.
type use struct{ fixture, name, mark string }

// packed is a file of one fixture.
type packed struct {
	name string
	data []byte
}

// NewBatch returns an empty batch. The summary lists fixtures in the order of the
// names given, others after them by name.
func NewBatch(names ...string) *Batch {
	return &Batch{order: names, contents: map[string]*content{}, pages: map[string][]packed{}, rows: map[string][]string{}}
}

// Add makes every file of one fixture. The job is not needed afterwards.
func (b *Batch) Add(name string, j *job.Job, o Options) error {
	pack, marks := newPacker(), 0
	o.Elsewhere = func(part, file string, encode func(io.Writer) error) (string, error) {
		marks++
		u := use{name, file, fmt.Sprintf("\ue000%d\ue001", marks)} // of letters nobody writes, too short to be broken
		return u.mark, b.keep(pack, u, part != "" && shop.OwnFile(file), encode)
	}
	plan, err := Plan(j, o)
	if err != nil {
		return err
	}
	var pages []packed
	for _, a := range plan.Artifacts {
		_, data, err := pack.encode(a.Encode)
		if err != nil {
			return err
		}
		pages = append(pages, packed{a.Name, data})
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.pages[name], b.rows[name] = pages, Summarize(name, j).Row()
	return nil
}

// keep keeps a file by its content.
func (b *Batch) keep(pack *packer, u use, part bool, encode func(io.Writer) error) error {
	hash, data, err := pack.encode(encode)
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	c := b.contents[hash]
	if c == nil {
		c = &content{packed: data}
		b.contents[hash] = c
	}
	c.part = c.part || part
	c.uses = append(c.uses, u)
	return nil
}

// hashed is the hash of what an encoder writes.
func hashed(encode func(io.Writer) error) (string, error) {
	h := sha256.New()
	if err := encode(h); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// packer packs what encoders write; not for concurrent use.
type packer struct {
	plain, small bytes.Buffer
	deflate      *flate.Writer
}

func newPacker() *packer {
	p := &packer{}
	p.deflate, _ = flate.NewWriter(&p.small, flate.BestSpeed) // fails for unknown levels only
	return p
}

// encode runs an encoder and returns the hash of what it writes, and that packed.
func (p *packer) encode(encode func(io.Writer) error) (hash string, data []byte, err error) {
	p.plain.Reset()
	if err := encode(&p.plain); err != nil {
		return "", nil, err
	}
	p.small.Reset()
	p.deflate.Reset(&p.small)
	if _, err := p.deflate.Write(p.plain.Bytes()); err != nil {
		return "", nil, err
	}
	if err := p.deflate.Close(); err != nil {
		return "", nil, err
	}
	sum := sha256.Sum256(p.plain.Bytes())
	return hex.EncodeToString(sum[:]), bytes.Clone(p.small.Bytes()), nil
}

// unpacked is an encoder of packed content.
func unpacked(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.Copy(w, flate.NewReader(bytes.NewReader(data)))
		return err
	}
}

// Summary is one fixture among many, as the summary tells it. Masses are in grams.
type Summary struct {
	Fixture  string          `json:"fixture"`
	Verdict  finding.Verdict `json:"verdict"`
	Share    *float64        `json:"share,omitempty"` // of such fixtures that stay within their bands, of 1; nil where they are held and not pressed
	Cells    int             `json:"cells"`
	Rows     int             `json:"rows"`
	StackMM  float64         `json:"stack_mm"`
	RodMM    float64         `json:"rod_mm"`
	PlateMM  []float64       `json:"plate_mm"` // width, height, thickness
	MassG    float64         `json:"pack_mass_g"`
	LeastN   float64         `json:"force_least_n"`
	MostN    float64         `json:"force_greatest_n"`
	Pay      *float64        `json:"pay"` // of what has a price; nil where nothing has
	Currency string          `json:"currency"`
	Buy      []string        `json:"buy"` // whole sheets and lengths, each with how many
	Fails    []string        `json:"fails"`
}

// Summarize is the summary of a job.
func Summarize(name string, j *job.Job) Summary {
	f := j.Fixture
	round := func(v float64) float64 { return math.Round(100*v) / 100 }
	s := Summary{Fixture: name, Verdict: j.Verdict(), Cells: f.Pack.Cells, Rows: f.Pack.Rows, StackMM: round(f.Pack.StackLength.MM()), RodMM: round(f.Rods.Length.MM()),
		PlateMM: []float64{round(f.Plate.Width.MM()), round(f.Plate.Height.MM()), round(f.Plate.Thickness.MM())},
		MassG:   round(j.Assembly.PackMassG()), Pay: j.Cost.Known(), Currency: j.Cost.Currency, Buy: []string{}, Fails: []string{}}
	if j.Assurance != nil {
		share := math.Round(1e4*j.Assurance.Share) / 1e4
		s.Share = &share
	}
	for i, c := range j.Clamp.States {
		if i == 0 || c.ForceN < s.LeastN {
			s.LeastN = c.ForceN
		}
		s.MostN = max(s.MostN, c.ForceN)
	}
	s.LeastN, s.MostN = round(s.LeastN), round(s.MostN)
	for _, b := range j.Buying {
		s.Buy = append(s.Buy, fmt.Sprintf("%d x %s", b.Count, b.Item))
	}
	for _, c := range j.Findings {
		if c.Verdict == finding.Fail && !slices.Contains(s.Fails, string(c.ID)) {
			s.Fails = append(s.Fails, string(c.ID))
		}
	}
	return s
}

// SummaryHead names the columns of Row.
var SummaryHead = []string{"variant", "verdict", "share", "cells", "rows", "stack_mm", "rod_mm", "plate_mm", "pack_mass_g", "force_least_n", "force_greatest_n", "pay", "buy", "fails"}

// Row is the summary as a line of the table.
func (s Summary) Row() []string {
	var plate []string
	for _, mm := range s.PlateMM {
		plate = append(plate, number.Trim(mm, 2))
	}
	given := func(v *float64, decimals int) string {
		if v == nil {
			return ""
		}
		return number.Trim(*v, decimals)
	}
	return []string{s.Fixture, string(s.Verdict), given(s.Share, 4), fmt.Sprint(s.Cells), fmt.Sprint(s.Rows), number.Trim(s.StackMM, 2), number.Trim(s.RodMM, 2),
		strings.Join(plate, "x"), number.Mass.Text(s.MassG), number.Force.Text(s.LeastN), number.Force.Text(s.MostN), given(s.Pay, 2), strings.Join(s.Buy, "; "), strings.Join(s.Fails, " ")}
}

// Rows is the summary: a line for every fixture added.
func (b *Batch) Rows() (head []string, rows [][]string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, name := range slices.SortedFunc(maps.Keys(b.rows), b.before) {
		rows = append(rows, b.rows[name])
	}
	return SummaryHead, rows
}

// before compares two fixtures by the order they were named in.
func (b *Batch) before(x, y string) int {
	place := func(name string) int {
		if i := slices.Index(b.order, name); i >= 0 {
			return i
		}
		return len(b.order)
	}
	return cmp.Or(cmp.Compare(place(x), place(y)), strings.Compare(x, y))
}

// Into adds all files and the summary to a plan, in order of their names. The
// plan holds the base fixture's files already.
func (b *Batch) Into(p *folder.Contents) {
	head, rows := b.Rows()
	b.mu.Lock()
	defer b.mu.Unlock()
	files, names := b.settle(baseFiles(p))
	for fixture, pages := range b.pages {
		for _, page := range pages {
			files[fixture+"/"+page.name] = renamed(page, names[fixture])
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		p.Add(VariantsDir+"/"+name, files[name])
	}
	p.Add(VariantsDir+"/summary.csv", func(w io.Writer) error { return lists.Encode(w, append([][]string{head}, rows...)) })
}

// baseFiles are the files of the base fixture that a variant may have too, by
// the hash of their content.
func baseFiles(p *folder.Contents) map[string]string {
	out := map[string]string{}
	for _, a := range p.Artifacts {
		if !strings.Contains(a.Name, "/") {
			continue
		}
		hash, err := hashed(a.Encode)
		if err != nil {
			continue // writing it fails too, and is told
		}
		if _, known := out[hash]; !known {
			out[hash] = a.Name
		}
	}
	return out
}

// settle says where every file stands: the files to write below VariantsDir, and
// by fixture each mark with the file's name as the fixture's pages have it.
func (b *Batch) settle(base map[string]string) (files map[string]func(io.Writer) error, names map[string][]string) {
	b.shared, files, names = 0, map[string]func(io.Writer) error{}, map[string][]string{}
	for hash, c := range b.contents {
		at, inBase := base[hash]
		shared := c.sharedName(hash)
		if !inBase && shared != "" {
			b.shared++
			files[shared] = unpacked(c.packed)
		}
		for _, u := range c.uses {
			stands := u.name
			switch {
			case inBase:
				stands = "../../" + at
			case shared != "":
				stands = "../" + shared
			default:
				files[u.fixture+"/"+u.name] = unpacked(c.packed)
			}
			names[u.fixture] = append(names[u.fixture], u.mark, stands)
		}
	}
	return files, names
}

// sharedName is where content stands that is not one fixture's alone; empty when
// it is. Of several names the first counts, whatever order they came in.
func (c *content) sharedName(hash string) string {
	several := func(u use) bool { return u.fixture != c.uses[0].fixture }
	if !c.part && !slices.ContainsFunc(c.uses, several) {
		return ""
	}
	first := slices.MinFunc(c.uses, func(x, y use) int { return strings.Compare(x.name, y.name) })
	ext := path.Ext(first.name)
	return SharedDir + "/" + strings.TrimSuffix(first.name, ext) + "-" + hash[:10] + ext
}

// renamed is an encoder of a page with every mark replaced, and sealed then; in
// HTML, long names may break at their strokes.
func renamed(page packed, names []string) func(io.Writer) error {
	if path.Ext(page.name) == ".html" {
		names = slices.Clone(names)
		for i := 1; i < len(names); i += 2 {
			names[i] = strings.NewReplacer("/", "/<wbr>", "-", "-<wbr>").Replace(html.EscapeString(names[i]))
		}
	}
	return mark.Sealed(func(w io.Writer) error {
		var text strings.Builder
		if err := unpacked(page.data)(&text); err != nil {
			return err
		}
		_, err := strings.NewReplacer(names...).WriteString(w, text.String())
		return err
	})
}

// Shared is the number of files in SharedDir, once Into has settled them.
func (b *Batch) Shared() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.shared
}
