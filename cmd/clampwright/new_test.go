package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/tell"
)

// Whatever combination of choices is given, the starter passes its checks.
func TestStarterPassesItsChecks(t *testing.T) {
	for _, choices := range []string{
		"", "--units in", "--no-angles", "--units in --no-angles", "--rows 2 --cells 8 --no-angles", "--units in --rows 2 --cells 8 --no-angles",
		"--plate hdpe --no-angles", "--plate 6061-T6", "--thread M6 --no-angles", "--thread M10", "--units in --thread 3/8-16", "--force 300kgf --no-angles", "--cells 1", "--cell 36x130x200 --no-angles",
	} {
		t.Run(choices, func(t *testing.T) {
			t.Parallel()
			var out, errs bytes.Buffer
			args := append([]string{"clampwright", "new"}, strings.Fields(choices)...)
			if code := run(context.Background(), args, &console{out: &out, err: &errs}); code != exitDone {
				t.Fatalf("code %d: %s", code, errs.String())
			}
			j, err := starterJob(context.Background(), out.Bytes(), &job.Seen{})
			if err != nil {
				t.Fatalf("%v\n%s", err, out.String())
			}
			if j.Verdict() == finding.Fail {
				t.Error(tell.Sentence(j))
			}
		})
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
