package params

import (
	"strings"
	"testing"
)

const linked = `fixture: t
cell: {model: 36x130x200, compression: none}
pack: {cells: 4}
electrical:
  links:
    - state: final
      links: [1+ 2-, "2+ 3-", 3+ 4-]
`

func TestLinksKeepTheirPlaces(t *testing.T) {
	f, diags := Load("pack.yaml", []byte(linked))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	got := f.Electrical.Links
	if len(got) != 1 || got[0].State != "final" || len(got[0].Links) != 3 {
		t.Fatalf("links %+v", got)
	}
	if k := got[0].Links[2]; k.Text != "3+ 4-" || k.At.Line != 7 || k.At.Col != 31 {
		t.Errorf("third link %+v, want 3+ 4- at line 7, column 31", k)
	}
	if o := f.Origin("electrical.links"); o.Kind != FromFile || o.Range.Line == 0 {
		t.Errorf("origin %+v", o)
	}
}

func TestLinksOfOneStateOnce(t *testing.T) {
	text := linked + "    - state: final\n      links: [1+ 2-]\n"
	_, diags := Load("pack.yaml", []byte(text))
	if !diags.HasErrors() || !strings.Contains(diags[0].String(), "pack.yaml:8:") {
		t.Errorf("diagnostics %v, want one at line 8", diags)
	}
}
