//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// Ctrl-C while files are being written: exit code 1, a clear message, the
// earlier output as it was, nothing left beside it.
func TestInterruptedWhileWriting(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "pack.yaml")
	writeFile(t, file, "fixture: two\ncell: {model: 36x130x200, case: insulated}\npack: {cells: 2}\nsprings: {disc: 20x10.2x1.1, series: 10}\n")
	if out, err := program("make", file, "--out", filepath.Join(dir, "out")).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	writeFile(t, file, "fixture: two\ncell: {model: 36x130x200, case: insulated}\npack: {cells: 4}\nsprings: {disc: 20x10.2x1.1, series: 10}\n")
	before := contents(t, dir)
	for range 5 {
		stderr, code := interrupted(t, dir, file)
		if code == 0 {
			t.Log("done before the interrupt reached it; once more")
			continue
		}
		if code != exitFailed || !bytes.Contains(stderr, []byte("interrupted; nothing was changed")) {
			t.Fatalf("exit code %d\n%s", code, stderr)
		}
		sameContents(t, before, contents(t, dir))
		return
	}
	t.Skip("skipped: the machine is too quick to be interrupted")
}

func writeFile(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// program is the command line run by this test program itself.
func program(args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), "CLAMPWRIGHT_TEST_RUN=1")
	return cmd
}

// interrupted runs make and interrupts it once the folder it writes in beside
// the output is there.
func interrupted(t *testing.T, dir, file string) (stderr []byte, code int) {
	t.Helper()
	var text bytes.Buffer
	cmd := program("make", file, "--out", filepath.Join(dir, "out"))
	cmd.Stderr = &text
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan struct{})
	go func() { _ = cmd.Wait(); close(done) }()
	for running := true; running; {
		select {
		case <-done:
			running = false
		default:
			if staged, _ := filepath.Glob(filepath.Join(dir, ".out.*", "build")); len(staged) > 0 {
				_ = cmd.Process.Signal(os.Interrupt)
				<-done
				running = false
				break
			}
			time.Sleep(time.Millisecond)
		}
	}
	return text.Bytes(), cmd.ProcessState.ExitCode()
}

// contents is every file below dir, by name.
func contents(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(name string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			out[name], err = os.ReadFile(name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sameContents(t *testing.T, want, got map[string][]byte) {
	t.Helper()
	for name := range got {
		if _, there := want[name]; !there {
			t.Errorf("%s was left behind", name)
		}
	}
	for name, text := range want {
		if !bytes.Equal(text, got[name]) {
			t.Errorf("%s was changed", name)
		}
	}
}

// signalled runs a command, sends it signals a little apart, and returns how long it
// went on after the last, and its exit code.
func signalled(t *testing.T, cmd *exec.Cmd, after time.Duration, signals ...os.Signal) (took time.Duration, code int) {
	t.Helper()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(after)
	for i, s := range signals {
		if i > 0 {
			time.Sleep(100 * time.Millisecond) // quicker than any hand
		}
		_ = cmd.Process.Signal(s) // it may have ended by itself
	}
	sent := time.Now()
	_ = cmd.Wait()
	return time.Since(sent), cmd.ProcessState.ExitCode()
}

// One Ctrl-C at any moment is heard at once, on a machine that is busy otherwise too: the
// program has ended or says that it stops.
func TestInterruptIsHeard(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "pack.yaml")
	writeFile(t, file, "fixture: a\ncell: {model: 54x174x200, case: insulated}\npack: {cells: 16}\n")
	for i := range 6 {
		cmd := program("make", file, "--out", filepath.Join(dir, "out"))
		stderr, err := cmd.StderrPipe()
		if err != nil || cmd.Start() != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(100+150*i) * time.Millisecond)
		sent := time.Now()
		_ = cmd.Process.Signal(os.Interrupt) // it may have ended by itself
		said := make([]byte, 200)
		n, _ := stderr.Read(said) // also when it ends
		if took := time.Since(sent); took > 100*atOnce || n > 0 && !bytes.Contains(said[:n], []byte("stop")) && !bytes.Contains(said[:n], []byte("interrupted")) {
			t.Errorf("%v after the signal: %q", took, said[:n])
		}
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}
}
