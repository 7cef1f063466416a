package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write notices.txt anew")

// licences are the licence files of a module, in order. Of FreeType's two the FreeType
// License is chosen.
func licences(t *testing.T, dir string) []string {
	t.Helper()
	if own := filepath.Join(dir, "licenses", "ftl.txt"); strings.Contains(dir, "freetype") {
		return []string{own}
	}
	var out []string
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Skipf("skipped: the modules' sources are not here: %v", err)
	}
	for _, e := range entries {
		name := strings.ToUpper(e.Name())
		if strings.HasPrefix(name, "LICEN") || strings.HasPrefix(name, "NOTICE") || strings.HasPrefix(name, "COPYING") {
			out = append(out, filepath.Join(dir, e.Name()))
		}
	}
	return out
}

// modules are those built into the program on any of the six platforms, with the
// folders of their sources.
func modules(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}", ".")
		cmd.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		text, err := cmd.Output()
		if err != nil {
			t.Skipf("skipped: go list: %v", err)
		}
		for _, line := range strings.Split(string(text), "\n") {
			if name, dir, ok := strings.Cut(line, "\t"); ok && !strings.HasPrefix(name, "clampwright ") {
				out[name] = dir
			}
		}
	}
	return out
}

// TestNotices: the notices name every module that is built in, with its licence as it
// stands in the module.
func TestNotices(t *testing.T) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Skipf("skipped: no go here: %v", err)
	}
	all := modules(t)
	names := []string{}
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	names = append(names, "Go's runtime and standard library")
	all[names[len(names)-1]] = strings.TrimSpace(string(root))
	var want bytes.Buffer
	for _, name := range names {
		files := licences(t, all[name])
		if len(files) == 0 {
			t.Errorf("%s has no licence", name)
		}
		fmt.Fprintf(&want, "%s\n%s\n%s\n\n", strings.Repeat("-", 72), name, strings.Repeat("-", 72))
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(strings.ReplaceAll(string(text), "\r", ""), "\n") {
				fmt.Fprintln(&want, strings.TrimRight(line, " \t\f"))
			}
		}
	}
	if *update {
		if err := os.WriteFile("notices.txt", want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if notices != want.String() {
		t.Errorf("notices.txt is not of the modules as they are (%s): go test ./cmd/clampwright -run Notices -update", runtime.Version())
	}
}
