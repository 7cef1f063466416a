package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/export/tell"
)

// Whatever combination of choices is given, the starter passes its checks.
func TestStarterPassesItsChecks(t *testing.T) {
	all := []string{
		"", "--units in", "--no-angles", "--units in --no-angles", "--rows 2 --cells 8 --no-angles", "--units in --rows 2 --cells 8 --no-angles",
		"--plate hdpe", "--plate 6061-T6", "--thread M6 --no-angles", "--thread M10", "--units in --thread 3/8-16", "--force 300kgf --no-angles", "--cells 1", "--cell 36x130x200 --no-angles",
		"--cells 24", "--cells 32 --units in", "--cells 64",
	}
	if testing.Short() {
		all = all[:3]
	}
	for _, choices := range all {
		t.Run(choices, func(t *testing.T) {
			t.Parallel()
			var out, errs bytes.Buffer
			args := append([]string{"clampwright", "new"}, strings.Fields(choices)...)
			if code := run(context.Background(), args, &console{out: &out, err: &errs}); code != exitDone {
				t.Fatalf("code %d: %s", code, errs.String())
			}
			j, err := starterJob(context.Background(), out.Bytes())
			if err != nil {
				t.Fatalf("%v\n%s", err, out.String())
			}
			if j.Verdict() == finding.Fail {
				t.Error(tell.Sentence(j))
			}
		})
	}
}

// What was chosen stays as it was chosen, or the choice is refused by what stands in its way.
func TestStarterKeepsWhatWasChosen(t *testing.T) {
	var out, errs bytes.Buffer
	code := run(context.Background(), []string{"clampwright", "new", "--plate", "hdpe", "--no-angles"}, &console{out: &out, err: &errs})
	if code != exitInput || out.Len() > 0 || !strings.Contains(errs.String(), "another --plate") || !strings.Contains(errs.String(), "middle pressure") {
		t.Errorf("code %d: %s%s", code, out.String(), errs.String())
	}
}

func TestFew(t *testing.T) {
	names := strings.Fields("a b c d e f")
	for n, want := range map[int]string{0: "", 1: "a", 3: "a, b, c", 4: "a, b, c, d", 5: "a, b, c and 2 more", 6: "a, b, c and 3 more"} {
		if got := few(names[:n], 3); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
