package page

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"strings"
)

//go:embed tmpl/*.html
var templateFiles embed.FS

//go:embed asset/sheet.css
var styleText string

//go:embed asset/view.js
var scriptText string

var templates = template.Must(template.New("sheet").Funcs(template.FuncMap{"soft": soft}).ParseFS(templateFiles, "tmpl/*.html"))

// Doc is one of the documents of a sheet.
type Doc string

// The documents: what is worked by, why it holds, and what is filled in.
const (
	Card   Doc = "build-sheet.html"
	Checks Doc = "checks.html"
	Forms  Doc = "forms.html"
)

// Document is a document with what it is.
type Document struct {
	Doc        Doc
	Title, For string
}

// Docs are all of them.
var Docs = []Document{
	{Card, "Build sheet", "what to build by, step by step, with pictures"},
	{Checks, "Checks and figures", "checks, pressure maps, tolerances, sources"},
	{Forms, "Forms", "incoming cells, readings, taking apart"},
}

// Encode writes one document of the sheet as an HTML page that asks for nothing from
// outside: style, script, pictures and the scene lie in the page, and its own policy
// forbids the rest. It errors before anything is written on numbers that are not
// finite and on text that is not UTF-8, and when w fails.
func Encode(w io.Writer, s Documents, d Doc) error {
	if err := drawable(reflect.ValueOf(s)); err != nil {
		return fmt.Errorf("page: %q: %w", s.Title, err)
	}
	v, err := newPageView(&s, d)
	if err != nil {
		return fmt.Errorf("page: %q: %w", s.Title, err)
	}
	page, err := fill("page.html", v)
	if err != nil {
		return fmt.Errorf("page: %q: %w", s.Title, err)
	}
	_, err = io.WriteString(w, string(page))
	return err
}

// pageView is what the page template reads.
type pageView struct {
	Kind, Title, Hash, Program, Key string
	Others                          []File // the other documents
	Policy                          string
	Banner                          *banner
	Summary                         []Fact
	Picture                         template.HTML
	Sections                        []section
	Listed                          bool // the sections, above them
	Mark, Style, Script, Data       template.HTML
}

// banner is the verdict on top.
type banner struct{ Class, Word, Sentence string }

// verdictWords are those of the whole verdict.
var verdictWords = map[Verdict]string{Pass: "Passes", Warn: "Read first", Fail: "Does not pass"}

func newPageView(s *Documents, d Doc) (*pageView, error) {
	v := &pageView{Title: s.Title, Hash: s.Hash, Program: s.Program}
	for _, o := range Docs {
		if o.Doc == d {
			v.Kind = o.Title
		} else {
			v.Others = append(v.Others, File{string(o.Doc), o.Title + ": " + o.For})
		}
	}
	key := sha256.Sum256([]byte(s.Title + "\x00" + s.Hash + "\x00" + string(d)))
	v.Key = fmt.Sprintf("%x", key[:8])
	if s.Verdict != "" || s.Sentence != "" {
		v.Banner = &banner{string(s.Verdict), firstOf(verdictWords[s.Verdict], "Not judged"), s.Sentence}
	}
	var err error
	if v.Sections, err = buildSections(s, d); err != nil {
		return nil, err
	}
	v.Listed = d != Card // the card's are few, and read in their order
	v.Style = template.HTML("<style>" + styleText + "</style>")
	v.Script = template.HTML("<script>" + scriptText + "</script>")
	v.Policy = policy()
	if s.Mark != "" && !strings.ContainsAny(s.Mark, `<>&"`) { // each letter is to stay as it is: what is markup is no mark
		v.Mark = template.HTML(`<meta name="generator" content="` + s.Mark + `">`)
	}
	if d != Card {
		return v, nil
	}
	v.Summary = s.Summary
	return v, v.addPicture(s)
}

// addPicture draws the fixture and packs it for the script.
func (v *pageView) addPicture(s *Documents) error {
	st := newStage(s.Scene)
	if len(st.actors) == 0 {
		return nil
	}
	alt := firstOf(s.Scene.Description, "The finished fixture "+s.Title+" seen from a corner.")
	svg, still, err := stillSVG(st, alt)
	if err != nil {
		return err
	}
	data, err := st.pack(float64(still.w) / float64(still.h))
	if err != nil {
		return err
	}
	v.Data = template.HTML(`<script type="application/json" id="scene">` + string(data) + `</script>`)
	v.Picture, err = fill("picture", struct {
		Still        template.HTML
		Alt, Caption string
		Groups       []string
	}{template.HTML(svg), alt, alt, st.groups})
	return err
}

// policy allows the page's own style and script by their digests, pictures
// that lie in it, and nothing else (W3C Content Security Policy Level 3).
func policy() string {
	digest := func(s string) string {
		h := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(h[:]) + "'"
	}
	return strings.Join([]string{"default-src 'none'", "img-src data:", "style-src " + digest(styleText),
		"script-src " + digest(scriptText), "base-uri 'none'", "form-action 'none'"}, "; ")
}
