package page

import (
	"html/template"
	"runtime"
	"strings"

	"golang.org/x/sync/errgroup"

	"clampwright/params/words"
)

// section is one numbered part of the page.
type section struct {
	ID, Title, Number string
	Body              template.HTML
}

// builder collects the sections that have something to say.
type builder struct {
	sections []section
	err      error
}

// add fills the named template and appends the section.
func (b *builder) add(id, title string, data any) {
	if b.err != nil {
		return
	}
	body, err := fill(id, data)
	if err != nil {
		b.err = err
		return
	}
	b.sections = append(b.sections, section{id, title, itoa(len(b.sections) + 1), body})
}

// fill is a template filled, no number of its texts broken over lines.
func fill(name string, data any) (template.HTML, error) {
	var s strings.Builder
	err := templates.ExecuteTemplate(&s, name, data)
	return template.HTML(tied(s.String())), err
}

// tied keeps every number in the texts of a page on one line with its unit.
func tied(html string) string {
	var b strings.Builder
	for {
		text, tag, more := strings.Cut(html, "<")
		b.WriteString(words.Tied(text))
		if !more {
			return b.String()
		}
		end := ">"
		for _, no := range []string{"svg", "script", "style", "title"} { // no text of the page
			if strings.HasPrefix(tag, no) {
				end = "</" + no + ">"
			}
		}
		in, after, _ := strings.Cut(tag, end)
		b.WriteString("<" + in + end)
		html = after
	}
}

// buildSections sets the order: on the card first what is wrong and what can hurt,
// then the work as it is done; the proof and the forms are documents of their own.
func buildSections(s *Documents, d Doc) ([]section, error) {
	b := &builder{}
	switch d {
	case Checks:
		b.proof(s)
	case Forms:
		b.forms(s)
	default:
		b.card(s)
	}
	return b.sections, b.err
}

func (b *builder) card(s *Documents) {
	if fs := findings(s.Checks); len(fs) > 0 {
		b.add("findings", "What needs attention", fs)
	}
	if len(s.Cautions) > 0 {
		b.add("cautions", "Before you start", s.Cautions)
	}
	if len(s.Ready) > 0 {
		b.add("ready", "Have ready", s.Ready)
	}
	if len(s.Parts.Rows) > 0 {
		b.add("parts", "Parts", struct {
			Table  table
			Totals []Fact
			Note   string
		}{partTable(s.Parts.Rows), s.Parts.Totals, s.Parts.Note})
	}
	if c := s.Stock; len(c.Sheets)+len(c.Bars)+len(c.Buy) > 0 {
		b.add("stock", "Stock to cut", stock(c))
	}
	if len(s.Steps) > 0 {
		b.add("steps", "Steps in order", steps(s.Steps, newShots(s.ShotBodies), "step-"))
	}
}

func (b *builder) forms(s *Documents) {
	if in := s.Incoming; len(in.Text)+len(in.Limits)+len(in.Reject)+len(in.Cells) > 0 {
		b.add("incoming", "The cells before they go in", struct {
			Incoming
			Table table
		}{in, recordTable(in)})
	}
	if len(s.Made) > 0 {
		b.add("made", "The first of each made part", madeTable(s.Made))
	}
	if len(s.Worth.Look) > 0 {
		b.add("worth", "What the clamp tells, and when to look again", struct {
			Look  []string
			Table table
		}{s.Worth.Look, worthTable(s.Worth.Offers)})
	}
	if t := logTable(s.Steps); len(t.Groups) > 0 {
		b.add("log", "Readings", t)
	}
	if len(s.Apart) > 0 {
		b.add("apart", "Taking it apart", steps(s.Apart, newShots(nil), "apart-"))
	}
}

func (b *builder) proof(s *Documents) {
	if c := s.Clamp; len(c.States)+len(c.Sentences)+len(c.Charge.Series) > 0 {
		v, err := clampView(c)
		if err != nil {
			b.err = err
			return
		}
		b.add("clamp", "Pressure on the cells", v)
	}
	if st := s.Setting; len(st.Figures)+len(st.Sentences)+len(st.Warnings) > 0 {
		b.add("setting", "How the clamp is set", st)
	}
	if w := s.Wiring; len(w.States)+len(w.Sentences)+len(w.Facts) > 0 {
		b.add("wiring", firstOf(w.Title, "Wiring"), wiring(w))
	}
	if len(s.Tolerances.Answers) > 0 {
		b.add("tolerances", "Tolerances", s.Tolerances)
	}
	if len(s.Prints) > 1 {
		b.add("prints", "How to print", rowsTable("The settings of each printed part. The files lie as they are printed.", s.Prints))
	}
	if len(s.Checks) > 0 {
		b.add("checks", "Checks", checkTable(s.Checks))
	}
	if len(s.Given) > 0 {
		b.add("given", "What was given, what was worked out", givenTable(s.Given))
	}
	if len(s.Files) > 0 {
		b.add("files", "Files", fileTable(s.Files))
	}
}

// finding is a check that did not pass.
type finding struct {
	Check
	Title, Caption string
	Drawing        template.HTML
	More           int // other places that only the table of checks lists
}

// mostAlso is how many other places a finding names.
const mostAlso = 4

// inWords makes a title of a check's id.
func inWords(id string) string {
	if id == "" {
		return id
	}
	return strings.ToUpper(id[:1]) + strings.ReplaceAll(id[1:], "-", " ")
}

// findings are the checks that fail, then those that warn.
func findings(cs []Check) []finding {
	var out []finding
	for _, v := range []Verdict{Fail, Warn} {
		for _, c := range cs {
			if c.Verdict != v {
				continue
			}
			f := finding{Check: c, Title: inWords(c.Name)}
			if n := len(c.Also) - mostAlso; n > 0 {
				f.Also, f.More = c.Also[:mostAlso], n
			}
			if c.Sketch != nil {
				f.Drawing, f.Caption = template.HTML(sketchSVG(*c.Sketch)), c.Sketch.Caption
			}
			out = append(out, f)
		}
	}
	return out
}

// drawn is a picture with its words.
type drawn struct {
	Title, Caption string
	Verdict        Verdict
	Drawing        template.HTML
}

func stock(c Stock) any {
	v := struct {
		Note   string
		Sheets []drawn
		Bars   template.HTML
		Buy    []Fact
	}{Note: c.Note, Buy: c.Buy}
	for _, s := range c.Sheets {
		v.Sheets = append(v.Sheets, drawn{Title: s.Name, Caption: s.Caption, Drawing: template.HTML(nestSVG(s))})
	}
	if len(c.Bars) > 0 {
		v.Bars = template.HTML(barsSVG(c.Bars))
	}
	return v
}

// stepView is a step with its running number.
type stepView struct {
	Step
	ID      string
	Number  int
	Drawing template.HTML
	Rows    table // of its holes, or its links
}

type phaseView struct {
	Title, Note string
	First       int
	Steps       []stepView
}

// steps numbers the steps through all phases and draws their pictures, several at a
// time.
func steps(ps []Phase, draw *shots, id string) []phaseView {
	var out []phaseView
	var all errgroup.Group
	all.SetLimit(runtime.GOMAXPROCS(0))
	n := 0
	for _, p := range ps {
		v := phaseView{Title: firstOf(p.Title, "Steps"), Note: p.Note, First: n + 1}
		v.Steps = make([]stepView, len(p.Steps))
		for i, s := range p.Steps {
			n++
			v.Steps[i] = stepView{Step: s, ID: id + itoa(n), Number: n, Rows: rowsTable("", s.Table)}
			if s.Holes != nil {
				v.Steps[i].Drawing, v.Steps[i].Rows = template.HTML(drillSVG(*s.Holes)), drillTable(*s.Holes)
				continue
			}
			picture := draw.step(s)
			all.Go(func() error {
				v.Steps[i].Drawing = template.HTML(picture())
				return nil
			})
		}
		out = append(out, v)
	}
	_ = all.Wait() // nothing of it fails
	return out
}

func wiring(w Wiring) any {
	type state struct {
		drawn
		Text  string
		Facts []Fact
	}
	v := struct {
		Sentences, Warnings []string
		Plans               table
		Facts               []Fact
		States              []state
	}{Sentences: w.Sentences, Warnings: w.Warnings, Plans: planTable(w.Plans), Facts: w.Facts}
	for _, s := range w.States {
		v.States = append(v.States, state{drawn{Title: s.Title, Drawing: template.HTML(wiringSVG(s))}, s.Text, s.Facts})
	}
	return v
}

// clampPage is the section on pressure as its template reads it.
type clampPage struct {
	Sentences                []string
	PressureUnit             string
	Window                   Window
	Legend, Chart            template.HTML
	ChartTitle, ChartCaption string
	Maps                     []drawn
	Table, Margins           table
	Methods, Ranges          table
}

func clampView(c Clamp) (clampPage, error) {
	v := clampPage{Sentences: c.Sentences, PressureUnit: firstOf(c.PressureUnit, "the unit of the tables"), Window: c.Window,
		Table: stateTable(c), Margins: marginTable(c), Methods: rowsTable(c.MethodsCaption, c.Methods), Ranges: rowsTable(c.RangesCaption, c.Ranges)}
	sc := pressureScale(c)
	for _, s := range c.States {
		if len(s.Fields) == 0 {
			continue
		}
		svg, err := mapSVG(c, s, sc)
		if err != nil {
			return v, err
		}
		v.Maps = append(v.Maps, drawn{s.Name, mapCaption(s, c.PressureUnit), s.Verdict, template.HTML(svg)})
	}
	if len(v.Maps) > 0 {
		v.Legend = template.HTML(legendSVG(c, sc))
	}
	if len(c.Charge.Series) > 0 {
		v.Chart = template.HTML(chartSVG(c.Charge))
		v.ChartTitle, v.ChartCaption = firstOf(c.Charge.Title, "Force against charge"), chartCaption(c.Charge)
	}
	return v, nil
}

// mapCaption puts the figures of a map into words.
func mapCaption(s State, unit string) string {
	var parts []string
	for _, f := range []Fact{{Label: "mean", Value: s.Mean}, {Label: "middle", Value: s.Middle}, {Label: "least", Value: s.Least}, {Label: "greatest", Value: s.Greatest}} {
		if f.Value != "" {
			parts = append(parts, f.Label+" "+f.Value)
		}
	}
	out := strings.Join(parts, ", ")
	if out != "" && unit != "" {
		out += " " + unit
	}
	if s.Contact != "" {
		out += "; " + s.Contact + " of the face in contact"
	}
	return strings.TrimPrefix(out, "; ")
}

// chartCaption says which line is which.
func chartCaption(c Chart) string {
	looks := [chartDash]string{"full line", "broken line", "dotted line"}
	var parts []string
	for i, s := range c.Series {
		parts = append(parts, looks[i%chartDash]+": "+s.Name)
	}
	if c.Window.Given {
		parts = append(parts, "level band: "+firstOf(c.Window.Label, "window"))
	}
	out := strings.Join(parts, "; ") + "."
	if c.Caption != "" {
		out = c.Caption + " " + strings.ToUpper(out[:1]) + out[1:]
	}
	return out
}
