package export

import (
	"bytes"
	"path"
	"strings"
	"testing"

	"clampwright/assembly/job"
	"clampwright/export/mark"
	"clampwright/params"
	"clampwright/testdata/ready"
)

// A fixture's name in any script, as long as one may be, survives every output: as given
// where a person reads UTF-8, in letters that all have elsewhere; every file is made, is
// sealed, and names the fixture.
func TestNamesSurviveEveryOutput(t *testing.T) {
	text := string(ready.Text(t, "three-cell-ribs"))
	head := text[strings.Index(text, "\nfixture:")+1:]
	head = head[:strings.IndexByte(head, '\n')]
	for _, name := range []string{"电池夹具 4", "ąłβЖ" + strings.Repeat("Ё", 116), "بطارية", "한글 हिंदी"} {
		f, diags := params.Load("n.yaml", []byte(strings.Replace(text, head, "fixture: "+name, 1)))
		if f == nil || diags.HasErrors() {
			t.Fatal(name, diags)
		}
		j, err := job.Compute(t.Context(), f, func(string) {}, job.WithAnswers(0))
		if err != nil {
			t.Fatal(name, err)
		}
		for file, data := range artifacts(t, show(j)) {
			m, sealed, found := mark.Find(data)
			switch ext := path.Ext(file); ext {
			case ".html", ".json":
				if !bytes.Contains(data, []byte(name)) {
					t.Errorf("%s: %s does not name it", name, file)
				}
				continue
			case ".csv", "":
				continue
			case ".dxf":
				for i, c := range data {
					if c > 126 || c < 32 && c != '\n' && c != '\r' {
						t.Errorf("%s: %s has the byte %#x at %d", name, file, c, i)
						break
					}
				}
			case ".stl":
				m.Fixture = f.Plain // 80 bytes may not hold it
			}
			if !found || !sealed || m.Fixture != f.Plain {
				t.Errorf("%s: %s: %+v, sealed %v; want %q", name, file, m, sealed, f.Plain)
			}
		}
	}
}
