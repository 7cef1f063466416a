package live

import (
	"embed"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/compare"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

//go:embed asset/*
var assets embed.FS

var templates = template.Must(template.ParseFS(assets, "asset/*.html"))

// fill is a template of ours filled; the templates take whatever they are given.
func fill(name string, data any) template.HTML {
	var b strings.Builder
	if err := templates.ExecuteTemplate(&b, name, data); err != nil {
		return template.HTML(template.HTMLEscapeString(err.Error()))
	}
	return template.HTML(b.String())
}

func section(p page.Piece, m *marker) template.HTML {
	p.HTML = m.html(p.HTML)
	return fill("section", p)
}

func verdictHTML(class, word, sentence string) template.HTML {
	return fill("verdict", [3]string{class, word, sentence})
}

func verdictOf(j *job.Job) template.HTML { return fill("verdict", verdictWords(j)) }

// verdictWords is a verdict, its word and its sentence.
func verdictWords(j *job.Job) [3]string {
	return [3]string{string(j.Verdict()), page.Word(page.Verdict(j.Verdict())), tell.Sentence(j)}
}

// row is a figure before and after.
type row struct{ Name, Was, Is string }

// mostMoved is how many figures that moved are seen before the others are asked for.
const mostMoved = 12

// moved is what a change did.
type moved struct {
	What       string
	Rows, More []row
	Parts      string
	Work       []compare.Row // parts that are not kept
	Since      string
}

// movedHTML tells what moved since the fixture judged before, and which of the parts
// made already stay.
func (b *bench) movedHTML(was, is *job.Job) template.HTML {
	if was == nil {
		return ""
	}
	v := moved{What: b.past[b.at].what, Rows: differences(was, is)}
	if len(v.Rows) > mostMoved {
		v.Rows, v.More = v.Rows[:mostMoved], v.Rows[mostMoved:]
	}
	if made := b.made; made != nil && made.job != is {
		r := compare.Compare(made.job, is)
		v.Parts, v.Since = r.Line(), "the page was opened"
		if b.wrote != "" {
			v.Since = "the files were written"
		}
		v.Work = slices.DeleteFunc(slices.Clone(r.Rows), func(r compare.Row) bool { return r.Action == compare.Keep })
	}
	return fill("moved", v)
}

// differences are the figures of two jobs that differ: verdict, share, pressures, price,
// mass, and the values of the file and those that follow.
func differences(was, is *job.Job) []row {
	var out []row
	add := func(name, a, b string) {
		if a != b {
			out = append(out, row{name, words.First(a, "–"), words.First(b, "–")})
		}
	}
	for _, f := range []struct {
		name string
		of   func(*job.Job) string
	}{
		{"verdict", func(j *job.Job) string { return page.Word(page.Verdict(j.Verdict())) }},
		{"share", share}, {"price", price},
		{"mass with cells", func(j *job.Job) string { return j.Fixture.Style.Mass(j.Assembly.PackMassG()) }},
	} {
		add(f.name, f.of(was), f.of(is))
	}
	for _, s := range compare.Compare(was, is).Clamp {
		add("middle of the face, "+s.Name, middle(was, s.Old), middle(is, s.New))
	}
	old, now := texts(was), texts(is)
	for _, v := range is.Fixture.Values() {
		add(v.Path, old[v.Path], now[v.Path])
	}
	for _, v := range was.Fixture.Values() {
		if _, still := now[v.Path]; !still {
			add(v.Path, old[v.Path], "")
		}
	}
	return out
}

// middle is the pressure in the middle of the face, in the shop's unit.
func middle(j *job.Job, f compare.StateFigure) string {
	if f.MiddleKPa.V == 0 || math.IsNaN(f.MiddleKPa.V) {
		return ""
	}
	return j.Fixture.Style.Pressures().Text(f.MiddleKPa.V)
}

func share(j *job.Job) string {
	if s := j.Assurance; s != nil && s.Draws > 0 {
		return number.Trim(100*s.Share, 0) + " %"
	}
	return ""
}

func price(j *job.Job) string {
	if !j.Cost.Priced {
		return ""
	}
	return strings.TrimSpace(number.Money.Text(j.Cost.Pay()) + " " + j.Cost.Currency)
}

// texts are the values of a fixture in words, by path.
func texts(j *job.Job) map[string]string {
	out := map[string]string{}
	for _, v := range j.Fixture.Values() {
		out[v.Path] = tell.Settled(j, v)
	}
	return out
}

// repairView is one repair, before and after.
type repairView struct {
	Number int
	Why    []string
	Rows   []row
	Lines  []params.Hunk
	Left   string
	Price  float64
}

// given says whether the file gives what has no words of its own.
func given(j *job.Job, path string) string {
	if j.Fixture.Gives(path) {
		return "as given"
	}
	return "not given"
}

// chosen is a value of a change, in words where it leaves the choice.
func chosen(value string) string {
	if value == "" || value == "{}" {
		return "worked out"
	}
	return value
}

// repairsHTML shows what mends a job that fails.
func repairsHTML(file string, text []byte, j *job.Job, err error) template.HTML {
	var out struct {
		Repairs       []repairView
		Wrong, Nearby string
		Tried         int
	}
	if err != nil {
		out.Wrong = told(err)
	}
	out.Tried = j.Mended.Tried
	if p := j.Mended.Nearest; p != nil {
		out.Nearby = p.Said(j.Fixture)
	}
	for i := range j.Mended.Patches {
		p := &j.Mended.Patches[i]
		v := repairView{Number: i, Price: p.Burden.Price}
		for _, e := range p.Edits {
			v.Why = append(v.Why, words.Upper(e.Words)+": "+words.Lower(tell.Said(j.Fixture.Style, e.For))+".")
		}
		for _, c := range p.Changes() {
			v.Rows = append(v.Rows, row{c.Path, words.First(texts(j)[c.Path], given(j, c.Path)), chosen(c.Value)})
		}
		if is, err := params.Edit(file, text, p.Noted()); err == nil {
			v.Lines = params.Lines(text, is)
		}
		var left []string
		for _, f := range p.Left {
			if f.Verdict != finding.Pass && !slices.Contains(left, f.Name()) {
				left = append(left, f.Name())
			}
		}
		v.Left = words.Join(left)
		out.Repairs = append(out.Repairs, v)
	}
	return fill("repairs", out)
}

// historyHTML lists the texts, the latest first.
func (b *bench) historyHTML() template.HTML {
	type entry struct {
		At   int
		What string
		Now  bool
	}
	var all []entry
	for i, m := range slices.Backward(b.past) {
		all = append(all, entry{i, m.what, i == b.at})
	}
	return fill("history", struct {
		File       string
		All        []entry
		Undo, Redo bool
	}{b.file, all, b.at > 0, b.at < len(b.past)-1})
}

// beside sets the state that is held beside the one shown.
func (b *bench) beside() {
	if b.held == nil || b.is == nil {
		b.doc.drop("beside")
		return
	}
	old, now := b.held.job, b.is.job
	state := now.Clamp.States[0].Name
	maps, err := page.MapsBeside(state, tell.Clamp(old), tell.Clamp(now))
	if err != nil {
		maps = make([]template.HTML, 2)
	}
	b.doc.set("beside", fill("beside", struct {
		What, State string
		Held, Now   [3]string
		Maps        []template.HTML
		Rows        []row
		Parts       string
	}{fmt.Sprintf("Held: %s", words.First(b.held.what, "as the page was opened")), state, verdictWords(old), verdictWords(now), maps, differences(old, now), compare.Compare(old, now).Line()}))
}
