package params

import (
	"fmt"
	"path/filepath"
)

// settleLinks settles the links the user gives. Whether they name terminals of the
// pack is found where the wiring is planned; here every state may stand once.
func settleLinks(r *resolver, in []StateLinksBlock) {
	seen := map[string]bool{}
	for _, b := range in {
		if seen[b.State.V] && r.sure("electrical.links") {
			r.errorf(b.State.At, "links of one state are given twice", b.State.V, "one list for each state", "")
		}
		seen[b.State.V] = true
		s := StateLinks{State: b.State.V, At: b.State.At}
		for _, k := range b.Links {
			s.Links = append(s.Links, UserLink{Text: k.V, At: k.At})
		}
		r.f.Electrical.Links = append(r.f.Electrical.Links, s)
	}
	if file := r.in.Electrical.Records; file.Set {
		r.f.origins["electrical.records"] = Origin{Kind: FromFile, Text: filepath.Base(file.V), Range: file.At}
	}
	if n := len(in); n > 0 {
		r.f.origins["electrical.links"] = Origin{Kind: FromFile, Text: fmt.Sprintf("of %d states", n), Range: in[0].At}
	}
}
