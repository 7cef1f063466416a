package clamp

import "testing"

func TestSolveScenarios(t *testing.T) {
	for name, in := range map[string]Input{"four": fourCells(), "two rows": twoRows(), "sprung": sprung()} {
		r, err := Solve(in)
		if err != nil {
			t.Fatal(name, err)
		}
		t.Log(name, r.Verdict, r.Limiting, r.Sentence)
		for _, s := range r.States {
			t.Logf("  %-14s F %6.0f mean %5.1f least %5.1f great %6.1f centre %5.1f swell %5.1f contact %.2f defl %.3f steps %d %s %s", s.Name, s.ForceN, s.Pressure.Mean, s.Pressure.Least, s.Pressure.Greatest, s.Pressure.Centre, s.Pressure.Swell, s.ContactFraction, s.DeflectionMM, s.Steps, s.Verdict, s.Limiting)
			for _, m := range s.Margins {
				t.Logf("      %-10s %d %8.2f / %8.2f  margin %.2f %s", m.Part, m.Index, m.Stress, m.Allowed, m.Margin, m.Verdict)
			}
		}
		t.Logf("  %+v", r.Setting)
		t.Logf("  %+v", r.Band)
		t.Logf("  %+v", r.Advice)
		t.Logf("  %+v", r.Mesh)
		t.Logf("  %+v", r.Stacks)
		for _, w := range r.Warnings {
			t.Log("  ", w.ID, w.Text)
		}
	}
}

func BenchmarkOneState(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := SolveState(fourCells(), StateSpec{Tighten: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveFour(b *testing.B)    { benchSolve(b, fourCells()) }
func BenchmarkSolveTwoRows(b *testing.B) { benchSolve(b, twoRows()) }

func BenchmarkStatesTwoRows(b *testing.B) {
	in := twoRows()
	in.Band.Off, in.Search.Off = true, true
	benchSolve(b, in)
}

func benchSolve(b *testing.B, in Input) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkScreen(b *testing.B) {
	b.ReportAllocs()
	in := fourCells()
	for b.Loop() {
		if _, err := Screen(in); err != nil {
			b.Fatal(err)
		}
	}
}
