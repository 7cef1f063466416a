package main

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// launched are the program's runs in a launcher, in order, file names in one form.
func launched(t *testing.T, name string, same *strings.Replacer) (runs []string, text string) {
	t.Helper()
	b, err := os.ReadFile("../../.release/" + name)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(b), "\n") {
		if run := regexp.MustCompile(`^\s*\S*clampwright\S* (.*)$`).FindStringSubmatch(line); run != nil {
			runs = append(runs, same.Replace(run[1]))
		}
	}
	return runs, string(b)
}

// The launchers for those who double-click run the same commands; that of the batch
// language, which nothing here can run, is held to what goes wrong in it: it changes to
// its own folder, quotes every name, doubles the marks of its loop, closes what it opens
// and waits at the end.
func TestLaunchersAreAlike(t *testing.T) {
	shell, _ := launched(t, "make.sh", strings.NewReplacer())
	batch, text := launched(t, "make.bat", strings.NewReplacer("%%~nf", "$out", "%%f", "$file"))
	if len(shell) != 2 || !slices.Equal(shell, batch) {
		t.Errorf("%q and %q", shell, batch)
	}
	lines := strings.Split(strings.TrimSpace(text), "\n")
	if lines[0] != "@echo off" || !slices.Contains(lines, `pushd "%~dp0"`) || !slices.Equal(lines[len(lines)-2:], []string{"pause", "popd"}) || strings.Contains(text, "\r") {
		t.Error("it neither begins in its own folder nor waits at the end, or has line ends that the release doubles")
	}
	for _, opens := range []string{"if not errorlevel 1 if exist", "if errorlevel 3 if exist"} { // made, or made and a check fails
		if !strings.Contains(text, "  "+opens+` "%%~nf\build-sheet.html" start "" "%%~nf\build-sheet.html"`) {
			t.Errorf("not: %s", opens)
		}
	}
	depth := 0
	for _, line := range lines {
		if strings.HasPrefix(line, "rem ") {
			continue
		}
		if strings.HasPrefix(strings.TrimSpace(line), "echo ") {
			if strings.ContainsAny(line, "()&|<>^%!") {
				t.Errorf("what is said would be taken for a command: %s", line)
			}
			continue
		}
		if line = strings.Replace(line, "(*.yaml)", "", 1); strings.HasSuffix(line, "(") {
			depth++
		} else if strings.TrimSpace(line) == ")" {
			depth--
		} else if strings.ContainsAny(line, "()") {
			t.Errorf("a bracket inside a line: %s", line)
		}
		for _, word := range regexp.MustCompile(`\S*%+~?\w*f\b\S*`).FindAllString(line, -1) {
			if word != "%%f" && !regexp.MustCompile(`^"%%(~n)?f(\\build-sheet\.html)?"$`).MatchString(word) {
				t.Errorf("%s is not quoted, or its marks not doubled", word)
			}
		}
	}
	if depth != 0 {
		t.Errorf("%d blocks stay open", depth)
	}
}
