// Package outside helps tests that measure an output with a program that is not
// ours. Where the program is missing the test is skipped with a visible
// message, unless the environment says that all of them must be there.
package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Environment variables: with Required set to 1 a missing program fails the
// test, with 0 none is run; NodeModules names a node_modules folder outside the repository.
const (
	Required    = "CLAMPWRIGHT_OUTSIDE"
	NodeModules = "CLAMPWRIGHT_NODE_MODULES"
)

// missing skips or fails the test.
func missing(t testing.TB, format string, args ...any) {
	t.Helper()
	if os.Getenv(Required) == "1" {
		t.Fatalf(format, args...)
	}
	t.Skipf("skipped: "+format, args...)
}

// Figure is the last number that follows a label in the report of a program.
func Figure(t testing.TB, report, label string) float64 {
	t.Helper()
	all := regexp.MustCompile(regexp.QuoteMeta(label)+`\s*:\s*(-?[0-9.eE+]+)`).FindAllStringSubmatch(report, -1)
	if len(all) == 0 {
		t.Fatalf("there is no %q in:\n%s", label, report)
	}
	v, err := strconv.ParseFloat(all[len(all)-1][1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Program returns the path of a program.
func Program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil || os.Getenv(Required) == "0" {
		missing(t, "%s is not installed, or not to be run", name)
	}
	return path
}

// Run runs a program and returns what it printed; a failing exit fails the
// test.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	return run(t, exec.Command(Program(t, name), args...))
}

// Python runs a script with the system's Python and returns what it printed.
// The modules the script needs are tried first.
func Python(t testing.TB, script string, modules []string, args ...string) string {
	t.Helper()
	python := Program(t, "/usr/bin/python3")
	probe := exec.Command(python, "-c", "import "+strings.Join(append(modules, "sys"), ","))
	if err := probe.Run(); err != nil {
		missing(t, "%s with %v is not installed", python, modules)
	}
	return run(t, exec.Command(python, append([]string{script}, args...)...))
}

// Node runs a script with node, with the module folder of NodeModules or of the
// repository, and returns what it printed.
func Node(t testing.TB, script, module string, args ...string) string {
	t.Helper()
	node, folder := Program(t, "node"), Modules(t, module)
	cmd := exec.Command(node, append([]string{script}, args...)...)
	cmd.Env = append(os.Environ(), "NODE_PATH="+folder)
	return run(t, cmd)
}

// Modules returns the full path of the node_modules folder that holds a module.
func Modules(t testing.TB, module string) string {
	t.Helper()
	folder, err := filepath.Abs(moduleFolder())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(folder, module)); err != nil || os.Getenv(Required) == "0" {
		missing(t, "the node module %s is not installed, or not to be used", module)
	}
	return folder
}

func run(t testing.TB, cmd *exec.Cmd) string {
	t.Helper()
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s%s", cmd.Args, err, out, errs.String())
	}
	return string(out)
}

// moduleFolder is the folder named in the environment, or node_modules beside
// go.mod.
func moduleFolder() string {
	if dir := os.Getenv(NodeModules); dir != "" {
		return dir
	}
	dir, err := os.Getwd()
	for err == nil && dir != filepath.Dir(dir) {
		if _, statErr := os.Stat(filepath.Join(dir, "go.mod")); statErr == nil {
			break
		}
		dir = filepath.Dir(dir)
	}
	return filepath.Join(dir, "node_modules")
}
