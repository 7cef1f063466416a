package params

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"clampwright/params/diag"
)

// lines are n numbered lines.
func lines(n int, of func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(of(i) + "\n")
	}
	return b.String()
}

// hostileShapes are files up to the limit that a parser of the whole language can
// spend a gigabyte or a minute on, with the error that each is refused with.
func hostileShapes() []struct{ name, text, place, summary string } {
	fill := func(head, unit, tail string) string {
		return head + strings.Repeat(unit, (maxBytes-len(head)-len(tail))/len(unit)) + tail
	}
	return []struct{ name, text, place, summary string }{
		{"maps in braces", strings.Repeat("{a: ", maxTokens/4), "1:49", "nested too deep"},
		{"maps in braces, more", fill("", "{a: ", ""), "", "the file is too long"},
		{"lists in brackets", "cell: " + strings.Repeat("[", maxTokens-2), "1:18", "nested too deep"},
		{"lists in lines", strings.Repeat("- ", maxTokens), "1:25", "nested too deep"},
		{"an item a line", fill("prices: \n", "-\n", ""), "", "the file is too long"},
		{"empty items", "prices: \n" + strings.Repeat("-\n", maxTokens-2), "2:1", "prices has the wrong form"},
		{"anchors", "a: &a [x,x,x,x,x,x,x,x,x]\n" + lines(150, func(i int) string { return fmt.Sprintf("k%d: &k%d [*a,*a,*a,*a,*a,*a,*a,*a,*a]", i, i) }), "1:1", `unknown key "a"`},
		{"a long word", fill(least+"rods: {thread: ", "x", "}\n"), "4:16", "rods.thread: longer than 120 characters"},
		{"a long text in quotes", fill(least+`rods: {thread: "`, "x", "\"}\n"), "4:16", "rods.thread: longer than 120 characters"},
		{"keys", least + lines(13000, func(i int) string { return fmt.Sprintf("k%d: 1", i) }), "201:1", "too many keys in one block"},
		{"keys in braces", least + "rods: {" + strings.Repeat("k: 1, ", 9900) + "}\n", "4:8", `unknown key "k" in rods`},
		{"comments", fill("", "# comment\n", ""), "1:1", "the file is empty"},
		{"a long comment", fill("#", "x", ""), "1:1", "the file is empty"},
		{"a long line", fill(least+"rods: {levels: [", "1,", "1]}\n"), "", "the file is too long"},
		{"a list too long", least + "rods: {levels: [" + strings.Repeat("60 mm,", 15000) + "9]}\n", "4:16", "rods.levels is too long"},
		{"indents", lines(700, func(i int) string { return strings.Repeat(" ", i) + "a:" }), "13:14", "nested too deep"},
		{"many documents", strings.Repeat("---\na: 1\n", 8000), "17:1", "too many documents in the file"},
		{"many variants", least + "variants:\n" + lines(2000, func(i int) string { return fmt.Sprintf("  - {name: v%d, cells: 5}", i) }), "5:3", "variants is too long"},
		{"too many bytes", fill(least, "#\n", "") + "##", "1:1", "the file is too large"},
		{"no text", fill(least, "# \xff\n", ""), "4:3", "the file is not UTF-8 text"},
		{"another text", "\xff\xfef\x00i\x00x\x00", "1:1", "the file is not UTF-8 text"},
	}
}

// Whatever a file holds up to the limit, it is refused in little memory, with an
// error that says where and why.
func TestHostileShapes(t *testing.T) {
	for _, c := range hostileShapes() {
		if n := len(c.text); n > maxBytes && c.name != "too many bytes" {
			t.Fatalf("%s: %d bytes", c.name, n)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		f, _, list := LoadAll("f.yaml", []byte(c.text))
		runtime.ReadMemStats(&after)
		if mb := (after.TotalAlloc - before.TotalAlloc) >> 20; mb > 200 {
			t.Errorf("%s: %d MB", c.name, mb)
		}
		told := false
		for _, d := range list {
			told = told || d.Severity == diag.Error && strings.HasPrefix(d.Summary, c.summary) && (c.place == "" && d.Range.Col > 0 || d.Range.Place() == c.place)
		}
		if f != nil || !told {
			t.Errorf("%s: %.300v, want %s at %q", c.name, list, c.summary, c.place)
		}
	}
}

// What a large workshop lists is read.
func TestLongFilesAreRead(t *testing.T) {
	text := least + "stock:\n  sheets:\n" + strings.Repeat("    - {material: hdpe, thickness: 18 mm, width: 600 mm, height: 300 mm, quantity: 1}\n", 1700)
	if f, list := Load("f.yaml", []byte(text)); f == nil {
		t.Error(list)
	}
}

func BenchmarkHostileShapes(b *testing.B) {
	for _, c := range hostileShapes() {
		b.Run(strings.ReplaceAll(c.name, " ", "-"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				LoadAll("f.yaml", []byte(c.text))
			}
		})
	}
}
