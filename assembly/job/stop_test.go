package job

import (
	"context"
	"errors"
	"os"
	"strings"
	"testing"

	"clampwright/params"
)

// A job whose context ends during a stage begins no later one.
func TestStops(t *testing.T) {
	text, err := os.ReadFile("../../examples/fouled-on-purpose.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load("f.yaml", text)
	if f == nil {
		t.Fatal(diags)
	}
	for _, at := range []string{"placing", "checking", "looking"} {
		ctx, stop := context.WithCancel(t.Context())
		var steps []string
		_, err := Compute(ctx, f, func(what string) {
			steps = append(steps, strings.Fields(what)[0])
			if strings.HasPrefix(what, at) {
				stop()
			}
		})
		if !errors.Is(err, context.Canceled) || steps[len(steps)-1] != at {
			t.Errorf("stopped while %s: %v after %v", at, err, steps)
		}
		stop()
	}
}
