package params

import (
	"strings"
	"testing"
)

const rowsFile = `fixture: base
cell: {model: 72x174x201, thickness: 71.5 mm, force: 300 kgf}
pack: {cells: 4, stack: 287 mm}
rods: {thread: M8, length: 400 mm}
stock: {rods: [{length: 1 m, quantity: 2}]}
`

// Each row changes any key; what belongs to other cells goes, as in the list of
// variants, but not what the row itself gives.
func TestRows(t *testing.T) {
	in, diags := Decode("t.yaml", []byte(rowsFile))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	rows, diags := Rows("t.csv", []byte("name,cell.model,pack.cells,rods.length,stock.rods[0].quantity,springs\n"+
		"plain,,,,,\nmodel,54x174x200,,,,\nboth,54x174x200,6,,3,\"{friction: 0.03}\"\nlong,,,420 mm,,\nfree,,,null,,\n"))
	if diags.HasErrors() || len(rows) != 5 {
		t.Fatal(diags, rows)
	}
	for i, want := range []struct {
		name    string
		thick   float64
		cells   int
		rod     float64 // given; 0 for derived
		qty     int
		springs bool
	}{
		{"base-plain", 71.5, 4, 400, 2, false},
		{"base-model", 54, 4, 0, 2, false},
		{"base-both", 54, 6, 0, 3, true},
		{"base-long", 71.5, 4, 420, 2, false},
		{"base-free", 71.5, 4, 0, 2, false},
	} {
		v := in.Vary([]byte(rowsFile), rows[i])
		f := v.Fixture
		if f == nil {
			t.Fatalf("%s: %v", want.name, v.Notes)
		}
		given := 0.0
		if f.Origin("rods.length").Kind == FromFile {
			given = f.Rods.Length.MM()
		}
		if f.Name != want.name || f.Cell.Thickness.MM() != want.thick || f.Pack.Cells != want.cells || given != want.rod || f.Stock.Rods[0].Quantity != want.qty || (f.Spring != nil) != want.springs {
			t.Errorf("%s: %q, %v mm, %d cells, rod %v, %d lengths, springs %v", want.name, f.Name, f.Cell.Thickness, f.Pack.Cells, given, f.Stock.Rods[0].Quantity, f.Spring != nil)
		}
	}
}

// Two rows make one variant; what tells it apart is all that both say.
func TestRowsTogether(t *testing.T) {
	in, _ := Decode("t.yaml", []byte(rowsFile))
	a, _ := Rows("a.csv", []byte("name,pack.cells\nsix,6\nsix-again,6\n"))
	b, _ := Rows("b.csv", []byte("name,stock.rods[0].quantity\none,1\n"))
	v := in.Vary([]byte(rowsFile), a[0], b[0])
	if v.Name != "six-one" || v.Fixture == nil || v.Fixture.Pack.Cells != 6 || v.Fixture.Stock.Rods[0].Quantity != 1 {
		t.Errorf("%+v", v)
	}
	if a[0].Key() == a[1].Key() || a[0].Key() == b[0].Key() {
		t.Error("rows are told apart by all they say")
	}
}

func TestRowsRefuse(t *testing.T) {
	for text, want := range map[string]string{
		"":                                    "t.csv:1:1: error: no header line; want name and keys of the parameter file",
		"name,pack.cells\n":                   "t.csv:2:1: error: no variant after the header line",
		"pack.cells\n4\n":                     "t.csv:1:1: error: a table of variants has the column name",
		"name,pack.cels\na,4\n":               "t.csv:1:6: error: unknown column",
		"name,pack.cells.x\na,4\n":            "t.csv:1:6: error: unknown column",
		"name,pack.cells,pack.cells\na,4,4\n": "t.csv:1:17: error: column \"pack.cells\" stands twice",
		"name,pack.cells\na\n":                "t.csv:2:1: error: 1 fields, the header has 2",
		"name,pack.cells\n,4\n":               "t.csv:2:1: error: the variant has no name",
		"name,pack.cells\na,4\nA,5\n":         "t.csv:3:1: error: the variant's name is taken",
		"name,pack.cells\na b,4\n":            "t.csv:2:1: error: the variant's name can't name a folder",
		"name,pack.cells\na,\"4\n":            "t.csv:2:",
	} {
		_, diags := Rows("t.csv", []byte(text))
		if !diags.HasErrors() || !strings.HasPrefix(diags[0].String(), want) {
			t.Errorf("%q: %v, want %s", text, diags, want)
		}
	}
	in, _ := Decode("t.yaml", []byte(rowsFile))
	for text, want := range map[string]string{
		"name,pack.cells\na,999\n":                    "t.csv:2:3: error: pack.cells is too large",
		"name,rods.levels\na,\"[1 mm, 2 furlong]\"\n": "t.csv:2:3: error:",
		"name,stock.rods[4].quantity\na,1\n":          "t.csv:2:3: error:",
		"name,cell.model\na,72x174\n":                 "t.csv:2:3: error: no row \"72x174\" in the cells table",
		"name,pack.cells\na,\"{\"\n":                  "t.csv:2:1: error:",
	} {
		rows, diags := Rows("t.csv", []byte(text))
		if diags.HasErrors() {
			t.Errorf("%q: %v", text, diags)
			continue
		}
		if v := in.Vary([]byte(rowsFile), rows[0]); !v.Notes.HasErrors() || !strings.HasPrefix(v.Notes[0].String(), want) {
			t.Errorf("%q: %v, want %s", text, v.Notes, want)
		}
	}
}

func TestKnownPathSuggests(t *testing.T) {
	for path, want := range map[string]string{"plates.thicknes": `did you mean "plates.thickness"?`, "plate.thickness": `did you mean "plates"?`, "stock.sheets[0].quantty": `did you mean "stock.sheets[0].quantity"?`} {
		if near, known := knownPath(path); known || near != want {
			t.Errorf("%s: %q, want %q", path, near, want)
		}
	}
}
