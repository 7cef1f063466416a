package trace

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/export/folder"
	"clampwright/export/mark"
)

var (
	mine   = mark.New(mark.Version(), strings.Repeat("a", 64), "pass", "pack")
	others = mark.New(mark.Version(), strings.Repeat("b", 64), "pass", "other")
	failed = mark.New(mark.Version(), strings.Repeat("a", 64), "fail", "pack")
)

// sealed is a file with the text before its mark and after it.
func sealed(m mark.Mark, part, more string) []byte {
	return mark.Seal([]byte(more + "\n" + m.Of(part).Line() + "\n" + more))
}

// lists are the files of ours without a mark.
func lists(_ string, content []byte) bool { return strings.HasPrefix(string(content), "a,") }

func hashed(b []byte) string { return fmt.Sprintf("%x", sha256.Sum256(b)) }

// Each state on both sides: of a lone file, and of one that a list names.
func TestStates(t *testing.T) {
	good := sealed(mine, "P1", "x")
	edited := []byte(strings.Replace(string(good), "x\n", "y\n", 1))
	words := []byte("TEXT\n" + mine.Of("P1").Words())
	old := mine
	old.Version++
	for _, c := range []struct {
		name string
		file File
		want State
		note string
	}{
		{"whole", File{Data: good}, Agrees, ""},
		{"whole and listed", File{Data: good, Listed: hashed(good)}, Agrees, ""},
		{"one byte changed", File{Data: edited}, Edited, ""},
		{"saved anew by another program", File{Data: words}, Edited, ""},
		{"listed, another whole file in its place", File{Data: good, Listed: hashed(edited)}, OtherRun, "not the file that the folder's list names"},
		{"listed, no mark", File{Data: []byte("a,b\n"), Listed: hashed([]byte("a,b\n"))}, Agrees, ""},
		{"listed with its digest, and nothing of ours", File{Data: []byte("mine\n"), Listed: hashed([]byte("mine\n"))}, Foreign, "makes no such file"},
		{"a list alone", File{Data: []byte("a,b\n")}, Foreign, "begins as a list"},
		{"listed, no mark, changed", File{Data: []byte("a,c\n"), Listed: hashed([]byte("a,b\n"))}, Edited, ""},
		{"no mark", File{Data: []byte("mine\n")}, Foreign, ""},
		{"empty", File{}, Foreign, ""},
		{"listed and not there", File{Listed: hashed(good), Missing: true}, Missing, ""},
		{"of another input", File{Data: sealed(others, "P1", "x")}, OtherRun, "of other, input bbbbbbbbbbbb"},
		{"over a failing check", File{Data: sealed(failed, "P1", "x")}, NotReleased, "failing check"},
		{"of an earlier version", File{Data: sealed(old, "P1", "x")}, Agrees, fmt.Sprintf("made by version %d", old.Version)},
	} {
		_, rows, err := Files([]File{c.file}, mine, lists, nil)
		if err != nil || rows[0].State != c.want || !strings.Contains(rows[0].Note, c.note) || c.note == "" && rows[0].Note != "" {
			t.Errorf("%s: %+v, %v, want %s", c.name, rows[0], err, c.want)
		}
	}
}

// Without a report the run is that of most files, the first where two are even.
func TestRunOfMost(t *testing.T) {
	of := func(ms ...mark.Mark) (files []File) {
		for i, m := range ms {
			files = append(files, File{Name: fmt.Sprint(i), Data: sealed(m, "P1", fmt.Sprint(i))})
		}
		return files
	}
	for i, c := range []struct {
		files []File
		want  string
		other int
	}{{of(others, mine, mine), "pack", 1}, {of(others, mine), "other", 1}, {of(mine), "pack", 0}, {nil, "", 0}} {
		run, rows, _ := Files(c.files, mark.Mark{}, lists, nil)
		n := 0
		for _, r := range rows {
			if r.State == OtherRun {
				n++
			}
		}
		if run.Fixture != c.want || n != c.other {
			t.Errorf("%d: run of %q, %d of another; want %q, %d", i, run.Fixture, n, c.want, c.other)
		}
	}
}

// What this program would make in a file's place: the same but for the version, or
// otherwise and how.
func TestRemade(t *testing.T) {
	outline := func(m mark.Mark, width string, holes int) []byte {
		return sealed(m, "P1", "$EXTMIN\n 10\n0.0\n 20\n0.0\n$EXTMAX\n 10\n"+width+"\n 20\n200.0\n"+strings.Repeat("0\nCIRCLE\n", holes)) // twice, before and after the mark
	}
	old, before := mine, mine
	old.Version++
	before.Input = "0123456789ab"
	remake := func(version int) (map[string][]byte, error) {
		m := mine
		m.Version = version
		return map[string][]byte{"cut/end-plate.dxf": outline(m, "227.5", 4), "variants/a/cut/end-plate.dxf": outline(m, "99.0", 4), "print/cap.stl": sealed(m, "C1", "cap")}, nil
	}
	for _, c := range []struct {
		name string
		data []byte
		want State
		note string
	}{
		{"out/cut/end-plate.dxf", outline(mine, "227.5", 4), Agrees, ""},
		{"out/cut/end-plate.dxf", outline(old, "227.5", 4), Agrees, ""},
		{"renamed.dxf", outline(old, "227.5", 4), Agrees, ""},
		{"out/cut/end-plate.dxf", outline(old, "226.0", 4), Otherwise, "226 x 200 mm, 8 round holes becomes 227.5 x 200 mm, 8 round holes"},
		{"renamed.dxf", outline(old, "227.5", 2), Otherwise, "227.5 x 200 mm, 4 round holes becomes 227.5 x 200 mm, 8 round holes"},
		{"cut/end-plate.dxf", sealed(mine, "P1", "$EXTMIN\n 10\n0.0\n 20\n0.0\n$EXTMAX\n 10\n227.5\n 20\n200.0\n0\nCIRCLE\n0\nCIRCLE\n0\nCIRCLE\n0\nCIRCLE\n other"), Otherwise, "still with 227.5 x 200 mm"},
		{"cut/liner.svg", sealed(mine, "L1", "x"), Otherwise, "makes no such file"},
		{"cut/end-plate.dxf", outline(failed, "227.5", 4), NotReleased, "the verdict was fail and is pass"},
		{"cut/end-plate.dxf", outline(before, "226.0", 4), OtherRun, "input 0123456789ab; this program makes it otherwise: 226 x 200 mm, 8 round holes becomes 227.5 x 200 mm, 8 round holes"},
		{"cut/end-plate.dxf", outline(before, "227.5", 4), OtherRun, "of the parameters as they are now it has the same: 227.5 x 200 mm, 8 round holes"},
		{"cut/end-plate.dxf", outline(others, "227.5", 4), OtherRun, "of other"},
	} {
		_, rows, err := Files([]File{{Name: c.name, Data: c.data}}, mine, lists, remake)
		if err != nil || rows[0].State != c.want || !strings.Contains(rows[0].Note, c.note) || c.note == "" && rows[0].Note != "" {
			t.Errorf("%s: %s, %q, %v, want %s, %q", c.name, rows[0].State, rows[0].Note, err, c.want, c.note)
		}
	}
}

// A folder is read with its list and report; a link or a folder in it is not opened.
func TestLoad(t *testing.T) {
	dir := t.TempDir()
	good := sealed(mine, "P1", "x")
	put := func(name string, data []byte) {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("cut/a.dxf", good)
	put("report.json", []byte(`{"fixture": "pack", "input_sha256": "`+strings.Repeat("a", 64)+`", "verdict": "pass", "program_version": 3}`))
	put("notes.txt", []byte("mine"))
	list, _ := json.Marshal(map[string]any{"files": []map[string]string{{"name": "cut/a.dxf", "sha256": hashed(good)}, {"name": "cut/gone.dxf", "sha256": "1"}}})
	put(folder.ListName, list)
	if err := os.Symlink("/dev/zero", filepath.Join(dir, "zero.dxf")); err != nil {
		t.Fatal(err)
	}
	files, run, err := Load([]string{dir, filepath.Join(dir, "cut", "a.dxf")})
	if err != nil || run.Input != mine.Input || run.Version != 3 {
		t.Fatalf("%+v, %v", run, err)
	}
	var got []string
	for _, f := range files {
		got = append(got, fmt.Sprintf("%s %d %v %v", filepath.Base(f.Name), len(f.Data), f.Listed != "", f.Missing))
	}
	want := fmt.Sprintf("a.dxf %d true false,gone.dxf 0 true true,notes.txt 4 false false,report.json %d false false,zero.dxf 0 false false,a.dxf %d false false", len(good), len(files[3].Data), len(good))
	if strings.Join(got, ",") != want {
		t.Errorf("read %q, want %q", got, want)
	}
	if _, _, err := Load([]string{filepath.Join(dir, "nowhere")}); err == nil {
		t.Error("what is not there is read")
	}
	put(folder.ListName, []byte(`{"files": [{"name": "../../etc/passwd"}]}`))
	if _, _, err := Load([]string{dir}); err == nil {
		t.Error("a planted list is taken")
	}
}
