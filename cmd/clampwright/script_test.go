package main

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/urfave/cli/v2"
)

// TestMain lets the test program stand in for the command line: for scripts by
// its name, for a test of signals by an environment variable.
func TestMain(m *testing.M) {
	if os.Getenv("CLAMPWRIGHT_TEST_RUN") != "" {
		main()
	}
	cli.HelpFlag, cli.VersionFlag = ownFlag{cli.HelpFlag.(*cli.BoolFlag)}, ownFlag{cli.VersionFlag.(*cli.BoolFlag)}
	testscript.Main(m, map[string]func(){
		"clampwright": func() { os.Exit(run(context.Background(), os.Args, newConsole(os.Stdout, os.Stderr))) },
	})
}

// ownFlag is a flag that the library keeps one of for all programs and writes
// to while it reads a command line. Tests run many command lines at once in one
// process, so each works on its own copy.
type ownFlag struct{ *cli.BoolFlag }

func (f ownFlag) Apply(set *flag.FlagSet) error {
	own := *f.BoolFlag
	return own.Apply(set)
}

func (f ownFlag) GetDefaultText() string { return "" }

// The command line is tested as a command line: one script per behaviour.
func TestScripts(t *testing.T) {
	only := []string(nil)
	if testing.Short() { // those that run many at once, write and are stopped
		only = []string{"testdata/script/make.txt", "testdata/script/many.txt", "testdata/script/trace.txt", "testdata/script/unwritable.txt"}
	}
	dir := "testdata/script"
	if len(only) > 0 {
		dir = ""
	}
	testscript.Run(t, testscript.Params{
		Dir: dir, Files: only,
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exitcode": exitCode,
			"example":  copyExample,
		},
	})
}

// exitCode runs the program and wants one exit code: exitcode 3 make pack.yaml
func exitCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exitcode CODE ARGS...")
	}
	ts.Setenv("WANT", args[0])
	err := ts.Exec("clampwright", args[1:]...)
	got := "0"
	if err != nil {
		got = "1"
		if x, ok := err.(interface{ ExitCode() int }); ok {
			got = string(rune('0' + x.ExitCode()))
		}
	}
	if got != args[0] {
		ts.Fatalf("exit code %s, want %s", got, args[0])
	}
}

// copyExample copies an example into the script's folder: example NAME
func copyExample(ts *testscript.TestScript, _ bool, args []string) {
	for _, name := range args {
		text, err := os.ReadFile(filepath.Join(examplesDir, name))
		ts.Check(err)
		ts.Check(os.WriteFile(ts.MkAbs(name), text, 0o644))
	}
}

var examplesDir = func() string {
	dir, err := filepath.Abs("../../examples")
	if err != nil {
		panic(err)
	}
	return dir
}()
