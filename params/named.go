package params

// DrillWords names the drill to take for a hole, or the hole's own size where none
// owned will do.
func (f *Fixture) DrillWords(mm float64) string {
	if d, ok := f.Tools.Drill(mm); ok {
		return f.Style.Say(d.Words())
	}
	return f.Style.Exact(mm)
}

// Sheet names a sheet by what it is, Bar a length.
func (s Style) Sheet(k SheetStock) string {
	return k.Material + " " + s.Length(k.Thickness.MM()) + ", " + s.Size([3]float64{k.Width.MM(), k.Height.MM()})
}

func (s Style) Bar(k LengthStock) string { return k.Item + ", " + s.Length(k.Length.MM()) }
