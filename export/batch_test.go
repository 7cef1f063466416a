package export

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"clampwright/export/folder"
	"clampwright/params"
)

// batchText is a file whose variants have parts and sheets alike: zeta and alpha
// the base's, m1 and m2 each other's. The names are not in alphabetical order.
const batchText = `
fixture: base
cell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 900 kgf}
pack: {cells: 3}
plates: {material: birch plywood, thickness: 18}
springs: {disc: 20x10.2x1.1, series: 10}
stock:
  sheets:
    - {material: birch plywood, thickness: 18, width: 800, height: 500}
prints: {corner_guards: true}
variants:
  - {name: zeta, cells: 2}
  - {name: alpha, cells: 4}
  - {name: m2, model: 72x174x201, cells: 2}
  - {name: m1, model: 72x174x201}
`

// batched is the base fixture and its variants, computed.
func batched(t *testing.T) (base *Job, names []string, jobs map[string]*Job) {
	t.Helper()
	compute := func(f *params.Fixture) *Job {
		j, err := compute(context.Background(), f, noStep)
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	f, diags := params.Load("base.yaml", []byte(batchText))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	in, _ := params.Decode("base.yaml", []byte(batchText))
	list, diags := params.Variants(in, []byte(batchText))
	if diags.HasErrors() || len(list) != 4 {
		t.Fatal(diags, list)
	}
	jobs = map[string]*Job{}
	for _, v := range list {
		names = append(names, v.Name)
		jobs[v.Name] = compute(v.Fixture)
	}
	return compute(f), names, jobs
}

// batchFiles are all files of the base fixture and a batch added in some order.
func batchFiles(t *testing.T, base *Job, jobs map[string]*Job, order []string) (map[string][]byte, *Batch) {
	t.Helper()
	o := Options{Fixture: base.Fixture.Name, Cut: true}
	plan, err := Plan(base.Job, o)
	if err != nil {
		t.Fatal(err)
	}
	b := NewBatch()
	for _, name := range order {
		if err := b.Add(name, jobs[name].Job, o); err != nil {
			t.Fatal(err)
		}
	}
	b.Into(&plan)
	files := encoded(t, plan)
	for name, content := range files { // else the next run would keep them as the user's
		if !plan.Ours(name, content) || plan.Ours(name, append([]byte("x"), content...)) {
			t.Errorf("%s is not known as this program's by its content, or another is", name)
		}
	}
	return files, b
}

func encoded(t *testing.T, plan folder.Contents) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for _, a := range plan.Artifacts {
		var w bytes.Buffer
		if err := a.Encode(&w); err != nil {
			t.Fatalf("%s: %v", a.Name, err)
		}
		if out[a.Name] != nil {
			t.Errorf("%s is made twice", a.Name)
		}
		out[a.Name] = w.Bytes()
	}
	return out
}

// reportFiles are the files of a report's parts, in order.
func reportFiles(t *testing.T, report []byte) (out []string) {
	t.Helper()
	var r struct{ Parts []struct{ Files []string } }
	if err := json.Unmarshal(report, &r); err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Parts {
		out = append(out, p.Files...)
	}
	return out
}

// unbroken is a fixture's document of checks without hints where lines may break.
func unbroken(files map[string][]byte, name string) string {
	return strings.ReplaceAll(string(files[VariantsDir+"/"+name+"/checks.html"]), "<wbr>", "")
}

func TestBatch(t *testing.T) {
	base, names, jobs := batched(t)
	files, batch := batchFiles(t, base, jobs, names)
	t.Run("shared files are counted", func(t *testing.T) {
		n := 0
		for name := range files {
			if strings.HasPrefix(name, VariantsDir+"/"+SharedDir+"/") {
				n++
			}
		}
		if n == 0 || n != batch.Shared() {
			t.Errorf("%d files, %d counted", n, batch.Shared())
		}
	})
	t.Run("nothing stands twice", func(t *testing.T) {
		seen := map[string]string{}
		for _, name := range slices.Sorted(maps.Keys(files)) {
			if own := strings.TrimPrefix(name, VariantsDir+"/"); strings.Count(own, "/") == 0 || own != name && strings.Count(own, "/") == 1 {
				continue // pages and lists
			}
			hash := string(files[name])
			if other, ok := seen[hash]; ok {
				t.Errorf("%s and %s are the same", other, name)
			}
			seen[hash] = name
		}
	})
	t.Run("names lead to what the job makes", func(t *testing.T) {
		for name, j := range jobs {
			alone := artifacts(t, j, base.Fixture.Name)
			was, is := reportFiles(t, alone["report.json"]), reportFiles(t, files[VariantsDir+"/"+name+"/report.json"])
			if len(was) < 18 || len(was) != len(is) {
				t.Fatalf("%s: %d files, alone %d", name, len(is), len(was))
			}
			page := unbroken(files, name)
			for i, file := range is {
				if got := files[path.Join(VariantsDir, name, file)]; got == nil || !bytes.Equal(got, alone[was[i]]) {
					t.Errorf("%s: %s (alone %s) is missing or another", name, file, was[i])
				}
				if !strings.Contains(page, file) {
					t.Errorf("%s: the build sheet does not name %s", name, file)
				}
			}
		}
	})
	t.Run("where they stand", func(t *testing.T) {
		for name, want := range map[string][]string{
			"zeta":  {`>\.\./\.\./cut/end-plate\.dxf<`, `>\.\./\.\./cut/sheet-1\.dxf<`, `>\.\./\.\./print/[a-z-]+\.3mf<`, `>drawings/assembly\.pdf<`},
			"alpha": {`>\.\./\.\./cut/end-plate\.dxf<`, `>\.\./\.\./cut/sheet-1\.dxf<`, `>\.\./shared/model/rod-[0-9a-f]{10}\.stl<`, `>model/assembly\.stl<`},
			"m1":    {`>\.\./shared/cut/end-plate-[0-9a-f]{10}\.dxf<`, `>\.\./shared/cut/sheet-1-[0-9a-f]{10}\.dxf<`},
		} {
			page := unbroken(files, name)
			for _, w := range want {
				if !regexp.MustCompile(w).MatchString(page) {
					t.Errorf("%s: the build sheet has no %s", name, w)
				}
			}
		}
		for name, text := range files {
			if ext := path.Ext(name); (ext == ".html" || ext == ".json") && bytes.ContainsAny(text, "\ue000\ue001") {
				t.Errorf("%s: a mark is left", name)
			}
		}
	})
	t.Run("any order gives the same", func(t *testing.T) {
		back := slices.Clone(names)
		slices.Reverse(back)
		again, _ := batchFiles(t, base, jobs, back)
		if !maps.EqualFunc(files, again, bytes.Equal) {
			t.Error("another order of adding makes other files")
		}
	})
}

// Rows come in the order of the names given, others after them by name.
func TestBatchOrder(t *testing.T) {
	b := NewBatch("zeta", "alpha", "m2")
	for _, name := range []string{"m1", "m2", "beta", "alpha", "zeta"} {
		b.rows[name] = []string{name}
	}
	_, rows := b.Rows()
	var got []string
	for _, r := range rows {
		got = append(got, r[0])
	}
	if want := []string{"zeta", "alpha", "m2", "beta", "m1"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
