package page

import (
	"slices"
	"testing"
)

// The log has a line for every field of a step, those of its table by rod and reading.
func TestTheLogHasEveryField(t *testing.T) {
	s := Step{Figures: []Fact{{Label: "plate to plate", Value: "578 mm"}, {Label: "mean", Value: ToFill}},
		Table: Rows{{"rod", "plate to plate", "spring"}, {"left", ToFill, ToFill}, {"right", "573 mm", ToFill}}}
	want := []string{"mean", "left, plate to plate", "left, spring", "right, spring"}
	if got := toWrite(s); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := toWrite(Step{}); got != nil {
		t.Errorf("%q of a step without fields", got)
	}
}
