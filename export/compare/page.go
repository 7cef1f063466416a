package compare

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"clampwright/export/mark"
)

//go:embed compare.html
var pageText string

//go:embed compare.css
var styleText string

var pageTemplate = template.Must(template.New("compare").Parse(pageText))

// Page writes the report as one HTML page that asks for nothing from outside,
// sealed.
func (r *Report) Page(w io.Writer) error {
	type picture struct {
		Name, Action string
		Drawing      template.HTML
	}
	var pictures []picture
	for _, o := range r.plans {
		pictures = append(pictures, picture{o.Name, o.Action, template.HTML(o.SVG())})
	}
	h := sha256.Sum256([]byte(styleText))
	var b bytes.Buffer
	err := pageTemplate.Execute(&b, struct {
		*Report
		Sorted   []Row
		Pictures []picture
		Style    template.HTML
		Policy   string
	}{
		r, r.sortedRows(), pictures, template.HTML("<style>" + styleText + "</style>"),
		"default-src 'none'; base-uri 'none'; form-action 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(h[:]) + "'",
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(&b, "<!-- %s -->\n", mark.Unsealed)
	_, err = w.Write(mark.Seal(b.Bytes()))
	return err
}
