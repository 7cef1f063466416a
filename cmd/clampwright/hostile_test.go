//go:build linux

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// runHeld runs a program to its end and returns the most memory it has held, bytes, as
// read every millisecond while it ran. What the system tells of it at its end would not
// do: that begins at what the process that started it has held.
func runHeld(t *testing.T, cmd *exec.Cmd) (most int64) {
	t.Helper()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	status, done := fmt.Sprintf("/proc/%d/status", cmd.Process.Pid), make(chan struct{})
	go func() { _ = cmd.Wait(); close(done) }()
	tick := time.NewTicker(time.Millisecond)
	defer tick.Stop()
	for {
		text, _ := os.ReadFile(status) // gone at its end
		if s := mostHeld.FindSubmatch(text); s != nil {
			kb, _ := strconv.ParseInt(string(s[1]), 10, 64)
			most = max(most, kb<<10)
		}
		select {
		case <-done:
			if most == 0 {
				t.Fatal("no memory was read")
			}
			return most
		case <-tick.C:
		}
	}
}

// Whatever a file and its table hold, up to what is read of them, they are refused by
// the program in 2 s of processor time and 200 MB, in a screen or two of words.
func TestHostileFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("bounds of time and memory, which the detector of races swells")
	}
	text, err := os.ReadFile(filepath.Join(examplesDir, "eight-cell-plywood.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	example := string(text)
	lines := func(n int, format string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format+"\n", i)
		}
		return b.String()
	}
	const head, cell = "serial,capacity_ah,resistance_mohm,voltage_v,centre_mm,edge_left_mm,edge_right_mm\n", "D%d,204.1,0.201,3.298,54.12,53.90,53.88"
	variants := func(of string) string { return example + "variants:\n" + lines(100, "  - {name: v%d, "+of+"}") }
	for _, c := range []struct{ name, file, table, says string }{
		{"braces, 64 KB", strings.Repeat("{a: ", 16<<10), "", "the file is too long"},
		{"braces", strings.Repeat("{a: ", 64<<10), "", "the file is too long"},
		{"brackets", strings.Repeat("[", 256<<10), "", "the file is too long"},
		{"colons", strings.Repeat(":", 256<<10), "", "unknown key"},
		{"one number", strings.Replace(example, "cells: 8", "cells: "+strings.Repeat("9", 250<<10), 1), "", "too large"},
		{"anchors of anchors", "a: &a [x,x,x,x,x,x,x,x,x]\n" + lines(150, "k%d: [*a,*a,*a,*a,*a,*a,*a,*a,*a]"), "", "unknown key"},
		{"unknown keys", example + "springs: {" + strings.Repeat("k: 1, ", 8000) + strings.ReplaceAll(lines(800, "k%d: 1,"), "\n", " ") + "}\n", "", "more are not shown"},
		{"keys of variants", variants("q0: 1, q1: 1, q2: 1, q3: 1, q4: 1, q5: 1, q6: 1, q7: 1, q8: 1, q9: 1"), "", "more are not shown"},
		{"wrong variants", variants("cells: 256, rows: 7, series: 255, parallel: 63"), "", "from here on variants are not looked at"},
		{"variants of many cells", variants("series: 3"), head + lines(2000, cell), "from here on variants are not looked at"},
		{"a table of more cells", example, head + lines(20000, cell), "too many cells are measured"},
		{"one cell in every row", example, head + strings.Repeat("D1,204.1,0.201,3.298,54.12,53.90,53.88\n", 20000), "is measured twice"},
		{"no reading can be one", example, head + lines(10000, "D%d,-1,x,1/0,9e99,"+strings.Repeat("9", 40)+","), "out of range"},
		{"commas", example, head + strings.Repeat(",", 1_000_000), "fields, the header has 7"},
		{"a quote left open", example, head + `"` + strings.Repeat("x\n", 500_000), "in quoted-field"},
		{"a table of lines", example, head + strings.Repeat("\n", 1_000_000), "no reading"},
	} {
		dir := t.TempDir()
		writeFile(t, filepath.Join(dir, "pack.yaml"), c.file)
		writeFile(t, filepath.Join(dir, "cells-eight.csv"), c.table)
		var said bytes.Buffer
		cmd := program("check", filepath.Join(dir, "pack.yaml"))
		cmd.Stdout, cmd.Stderr = &said, &said
		rss := runHeld(t, cmd)
		state := cmd.ProcessState
		if took := state.UserTime() + state.SystemTime(); state.ExitCode() != exitInput || took > 2*time.Second || rss > 200<<20 || said.Len() > 64<<10 || !strings.Contains(said.String(), c.says) {
			t.Errorf("%s: exit code %d, %v, %d MB, %d bytes: %.500s", c.name, state.ExitCode(), took, rss>>20, said.Len(), said.String())
		} else {
			t.Logf("%s: %v, %d MB, %d bytes", c.name, took, rss>>20, said.Len())
		}
	}
}
