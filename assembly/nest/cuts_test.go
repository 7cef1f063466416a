package nest

import "testing"

func TestNumbers(t *testing.T) {
	for want, n := range map[string][]int{" 2": {2}, "s 1 and 2": {1, 2}, "s 1 to 3": {1, 2, 3}, "s 1, 3 and 4": {1, 3, 4}} {
		if got := numbers(n); got != want {
			t.Errorf("%v: %q, want %q", n, got, want)
		}
	}
}

// Pieces of one stock are counted together, each sheet or length named once.
func TestTakenAddsUp(t *testing.T) {
	sheet := Taken{ID: "a", Sheet: true, Numbers: []int{1}, Count: 1, Worth: 2}
	for _, n := range []int{1, 3} {
		sheet.add(Taken{Numbers: []int{n}, Count: 1, Worth: 2})
	}
	if sheet.Count != 3 || sheet.Worth != 6 || sheet.On() != "sheets 1 and 3" {
		t.Errorf("%+v on %q", sheet, sheet.On())
	}
	if got := (Taken{Numbers: []int{4}}).On() + (Taken{}).On(); got != "length 4" {
		t.Errorf("%q", got)
	}
}
