package params

// DrillWords names the drill to take for a hole, or the hole's own size where none
// owned will do.
func (f *Fixture) DrillWords(mm float64) string {
	if d, ok := f.Tools.Drill(mm); ok {
		return d.Words()
	}
	return f.Style.Exact(mm)
}
