package live

import (
	"cmp"
	"crypto/rand"
	"encoding/json"
	"html"
	"html/template"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/words"
)

// value is a value of the fixture as the page has it.
type value struct {
	Path   string   `json:"path"`
	Text   string   `json:"text"`  // in the card's words
	Input  string   `json:"input"` // as it may be typed: as the file writes it, if it does
	Origin string   `json:"origin"`
	From   string   `json:"from,omitempty"`
	Given  bool     `json:"given"`
	Was    string   `json:"was,omitempty"` // before the last change
	Doc    string   `json:"doc,omitempty"`
	Limits string   `json:"limits,omitempty"`
	Words  []string `json:"words,omitempty"`
	Like   string   `json:"like,omitempty"` // an example
	exact  string   // with all decimals
}

// marker finds the values of a fixture in the texts of its sheet, so that each can be
// typed anew where it is read. It goes by paths and by what the values say: a text is
// marked only where it is the words of that value.
type marker struct {
	values []value
	at     map[string]int
	secret string
}

// infos are what may be typed at each path.
var infos = func() map[string]params.PathInfo {
	out := map[string]params.PathInfo{}
	for _, p := range params.Paths() {
		out[p.Path] = p
	}
	return out
}()

func newMarker(j *job.Job, text []byte, was *job.Job) *marker {
	m := &marker{at: map[string]int{}, secret: newSecret()}
	rows := tableRows(j.Fixture)
	for i, v := range j.Fixture.Values() {
		info := infos[v.Path]
		x := value{Path: v.Path, Text: tell.Settled(j, v), Origin: string(v.Kind), From: v.Note, Given: v.Kind == params.FromFile,
			Doc: info.Doc, Limits: strings.TrimPrefix(info.Limits, ", "), Words: words.NonEmpty(append(slices.Clone(info.Words), rows[v.Path]...)...), Like: info.Example}
		x.Input = words.First(j.Fixture.Written(v.Path, text), x.Text)
		if x.Given && v.Range.Line > 0 {
			x.From = "line " + strconv.Itoa(v.Range.Line) + words.First(map[bool]string{true: ": " + v.Note}[v.Note != ""])
		}
		if v.Path == "pack.stack" {
			x.exact = j.Fixture.Style.Exact(j.Fixture.Pack.StackLength.MM())
		}
		m.at[v.Path] = i
		m.values = append(m.values, x)
	}
	if was != nil {
		for _, v := range was.Fixture.Values() {
			if i, ok := m.at[v.Path]; ok {
				if t := tell.Settled(was, v); t != m.values[i].Text {
					m.values[i].Was = words.First(t, "nothing")
				}
			}
		}
	}
	return m
}

// tableRows are the names that may be typed where a value is a row of a table.
func tableRows(f *params.Fixture) map[string][]string {
	t := &f.Tables
	out := map[string][]string{}
	for _, m := range t.Materials {
		out["plates.material"] = append(out["plates.material"], m.Name)
	}
	for _, x := range t.Threads {
		out["rods.thread"] = append(out["rods.thread"], x.Name)
	}
	for _, x := range t.Angles {
		out["stiffeners.angle"] = append(out["stiffeners.angle"], x.Name)
	}
	for _, x := range t.Cells {
		out["cell.model"] = append(out["cell.model"], x.Name)
	}
	for _, x := range t.Coils {
		out["springs.coil"] = append(out["springs.coil"], x.Name)
	}
	for _, x := range t.Discs {
		out["springs.disc"] = append(out["springs.disc"], x.Name)
	}
	out["separators.material"], out["liners.material"] = out["plates.material"], out["plates.material"]
	return out
}

// table is every value as the script reads it.
func (m *marker) table() template.HTML {
	b, err := json.Marshal(m.values)
	if err != nil {
		return "[]"
	}
	return template.HTML(b)
}

// Signs that stand in a text of the sheet round a value, until it is HTML: open, a secret
// that no name in a file can know, the value's place in the list, the text, and shut. All
// are for private use (Unicode).
const (
	open, shut  = '\ue000', '\ue001'
	firstNumber = '\ue100'
	mostNumbers = 6000
)

func (m *marker) sign(number int, text string) string {
	return string(open) + m.secret + string(rune(firstNumber+number)) + text + string(shut)
}

// newSecret is three signs at random: one of 2e11.
func newSecret() string {
	var b [6]byte
	_, _ = rand.Read(b[:]) // never fails (Go 1.24)
	var s string
	for i := 0; i < len(b); i += 2 {
		s += string(rune(firstNumber + (int(b[i])<<8+int(b[i+1]))%mostNumbers))
	}
	return s
}

var signed = regexp.MustCompile("\ue000([\ue100-\uf8ff]{3})([\ue100-\uf8ff])([^\ue000\ue001]*)\ue001")

// html turns the signs into what can be clicked.
func (m *marker) html(text template.HTML) template.HTML {
	return template.HTML(signed.ReplaceAllStringFunc(string(text), func(s string) string {
		part := signed.FindStringSubmatch(s)
		n, _ := utf8.DecodeRuneInString(part[2])
		i := int(n - firstNumber)
		if part[1] != m.secret || i >= len(m.values) {
			return part[3]
		}
		return m.button(i, part[3])
	}))
}

// button is a value that can be typed anew; its words are HTML.
func (m *marker) button(i int, words string) string {
	v := &m.values[i]
	class, more := "val", ""
	if v.Given {
		class += " given"
	}
	if v.Was != "" {
		class += " moved"
		more = ", was " + v.Was
	}
	name := v.Path + ": " + v.Text + ", " + v.Origin + more + "; change it"
	return element(class, v.Path, name, words)
}

// scopes are the words one of which a text has where it speaks of the values of a
// block: a plate's thickness is not looked for in a text that names no plate.
var scopes = []struct{ block, words string }{
	{"cell.", "cell,case,face,clamp force"}, {"pack.", "cell,stack,row"}, {"plates.", "plate"}, {"stiffeners.", "angle,stiffener,leg"},
	{"rods.", "rod,hole,drill,thread,stiffener"}, {"springs.", "spring"}, {"separators.", "separator"}, {"liners.", "liner"}, {"sleeves.", "sleeve"},
	{"nuts.", "nut"}, {"washers.", "washer"}, {"tools.pliers.", "pliers,jaw"}, {"tools.socket", "socket"}, {"electrical.link", "link,bar"}, {"cell.terminals.", "terminal"},
}

// spoken are the values that a text may be about, in the order of the scopes.
func (m *marker) spoken(about string) (out []int) {
	about = strings.ToLower(about)
	for _, s := range scopes {
		if !slices.ContainsFunc(strings.Split(s.words, ","), func(w string) bool { return strings.Contains(about, w) }) {
			continue
		}
		for i, v := range m.values {
			if strings.HasPrefix(v.Path, s.block) && !slices.Contains(out, i) {
				out = append(out, i)
			}
		}
	}
	return out
}

// mark signs the values in a text that is about something; plain counts, such as the
// number of cells, only where counts says so.
func (m *marker) mark(text, about string, counts bool) string {
	type hit struct{ from, to, value int }
	var hits []hit
	used := map[string]int{}
	for _, i := range m.spoken(about) {
		for _, v := range m.spelt(i) {
			if !telling(v, counts) && (text == "" || text != v) {
				continue
			}
			at, from := -1, 0
			for skip := used[v]; skip >= 0; skip-- { // the next of those that read alike
				if at = find(text, v, from); at < 0 {
					break
				}
				from = at + len(v)
			}
			if at >= 0 {
				hits = append(hits, hit{at, from - len(v) + len(strings.TrimSuffix(v, by)), i})
				used[v]++
				break
			}
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Or(a.from-b.from, b.to-a.to) })
	var out strings.Builder
	last := 0
	for _, h := range hits {
		if h.from < last {
			continue
		}
		out.WriteString(text[last:h.from] + m.sign(h.value, text[h.from:h.to]))
		last = h.to
	}
	return out.String() + text[last:]
}

// by stands between the sizes of a part, of which the last alone has the unit.
const by = " x "

// spelt are the ways in which a text may have a value: as it is, with the exact decimal,
// or before another size.
func (m *marker) spelt(i int) []string {
	v := &m.values[i]
	out := []string{v.Text}
	if v.exact != "" {
		out = append(out, v.exact)
	}
	for _, unit := range []string{" in", " mm"} {
		if number, ok := strings.CutSuffix(v.Text, unit); ok {
			out = append(out, number+by)
		}
	}
	return out
}

// telling says whether a text is enough to know a value by within a longer text: not a
// bare number, nor a single word, which may stand there for something else.
func telling(v string, counts bool) bool {
	if counts {
		return v != ""
	}
	return utf8.RuneCountInString(v) > 2 && strings.ContainsFunc(v, unicode.IsLetter) && strings.ContainsFunc(v, func(r rune) bool { return r == ' ' || unicode.IsDigit(r) })
}

// find is where a value stands in a text, whole, from a place on; -1 where it does not.
func find(text, v string, from int) int {
	for {
		at := strings.Index(text[from:], v)
		if at < 0 {
			return -1
		}
		at += from
		if whole(text[:at], v, text[at+len(v):]) {
			return at
		}
		from = at + len(v)
	}
}

// whole says whether a value between two texts is no part of a longer one: "1/2 in" is
// not found in "3 1/2 in".
func whole(before, v, after string) bool {
	a, _ := utf8.DecodeLastRuneInString(before)
	z, _ := utf8.DecodeRuneInString(after)
	word := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '/' }
	if word(a) || a == '.' || a == '-' || word(z) && !strings.HasSuffix(v, by) || strings.HasPrefix(after, ".") && len(after) > 1 && unicode.IsDigit(rune(after[1])) {
		return false
	}
	trimmed := strings.TrimRight(before, " ")
	d, _ := utf8.DecodeLastRuneInString(trimmed)
	number, _, _ := strings.Cut(v, " ")
	return trimmed == before || !unicode.IsDigit(d) || !strings.Contains(number, "/")
}

// title is the fixture's name, to be typed anew.
func (m *marker) title(name string) template.HTML {
	return template.HTML(element("val given", "fixture", "fixture: "+name+"; change it", html.EscapeString(name)))
}

// element is what is clicked; no button, as those do not break over lines as text does.
func element(class, path, name, words string) string {
	return `<span role="button" tabindex="0" class="` + class + `" data-path="` + html.EscapeString(path) + `" aria-label="` + html.EscapeString(name) + `">` + words + `</span>`
}

// summary marks the facts on top.
func (m *marker) summary(s *page.Documents) {
	s.Summary = m.facts(s.Summary, "", true)
}

// facts marks rows of figures, which speak of what their names and the text above say.
func (m *marker) facts(all []page.Fact, above string, counts bool) []page.Fact {
	out := slices.Clone(all)
	for i, f := range out {
		about := above + " " + f.Label
		out[i].Value, out[i].Note = m.mark(f.Value, about, counts), m.mark(f.Note, about, false)
	}
	return out
}

// pieces marks a sheet and gives the sections of its card, then those of its checks.
func (m *marker) pieces(s *page.Documents) ([]page.Piece, error) {
	m.sheet(s)
	card, err := page.Pieces(s, page.Card)
	if err != nil {
		return nil, err
	}
	checks, err := page.Pieces(s, page.Checks)
	return slices.Concat(card, slices.DeleteFunc(checks, func(p page.Piece) bool {
		return slices.ContainsFunc(card, func(c page.Piece) bool { return c.ID == p.ID })
	})), err
}

// sheet marks what can be read of the values, in its own copy.
func (m *marker) sheet(s *page.Documents) {
	s.Checks = slices.Clone(s.Checks)
	for i := range s.Checks {
		c := &s.Checks[i]
		about := c.Name + " " + strings.Join(c.Between, " ")
		c.Measured, c.Required, c.Why = m.mark(c.Measured, about, false), m.mark(c.Required, about, false), m.mark(c.Why, about, false)
	}
	s.Parts.Rows = slices.Clone(s.Parts.Rows)
	for i := range s.Parts.Rows {
		r := &s.Parts.Rows[i]
		r.Material, r.Size = m.mark(r.Material, r.Name, false), m.mark(r.Size, r.Name, false)
	}
	s.Setting.Figures = m.facts(s.Setting.Figures, "", false)
	s.Ready = m.facts(s.Ready, "", false)
	s.Cautions = slices.Clone(s.Cautions)
	for i := range s.Cautions {
		s.Cautions[i].Text = m.mark(s.Cautions[i].Text, s.Cautions[i].Title+s.Cautions[i].Text, false)
	}
	s.Steps = slices.Clone(s.Steps)
	for i := range s.Steps {
		s.Steps[i].Steps = slices.Clone(s.Steps[i].Steps)
		for k := range s.Steps[i].Steps {
			p := &s.Steps[i].Steps[k]
			about := p.Title + " " + p.Text
			p.Text, p.Figures, p.Cautions = m.mark(p.Text, about, false), m.facts(p.Figures, p.Title, false), slices.Clone(p.Cautions)
			for c := range p.Cautions {
				p.Cautions[c].Text = m.mark(p.Cautions[c].Text, about, false)
			}
		}
	}
	s.Given = slices.Clone(s.Given)
	for i, g := range s.Given {
		if n, ok := m.at[g.Name]; ok && n < mostNumbers {
			s.Given[i].Value = m.sign(n, words.First(m.values[n].Text, "as it is"))
		}
	}
}
