package lists

import (
	"bytes"
	"testing"
)

// What a spreadsheet would take for a formula begins with a stroke; all else, and
// what the rows were made of, stays as it is.
func TestWriteCSV(t *testing.T) {
	row := []string{"=1", "+1", "-1", "@a", "\tb", "\rc", "a=b", "1-2", "'d", "", " =e"}
	var b bytes.Buffer
	if err := Encode(&b, [][]string{row}); err != nil {
		t.Fatal(err)
	}
	want := "'=1,'+1,'-1,'@a,'\tb,\"'\rc\",a=b,1-2,'d,,\" =e\"\n"
	if b.String() != want || row[0] != "=1" {
		t.Errorf("%q of %q, want %q", b.String(), row, want)
	}
}
