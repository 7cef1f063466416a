package steps

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"clampwright/export/page"
	"clampwright/params/words"
)

// toldStep is a step as it was first told.
type toldStep struct {
	number int
	page.Step
}

// once leaves out of every step what an earlier step of the same kind of title has said,
// and names that step. Steps are numbered through all phases.
func once(phases []page.Phase) {
	told, warned, fastened, n := map[string][]toldStep{}, map[page.Caution]int{}, map[string]int{}, 0
	for i := range phases {
		for k := range phases[i].Steps {
			n++
			s := &phases[i].Steps[k]
			kind := strings.TrimRight(s.Title, "0123456789")
			if at := strings.IndexAny(s.Title, "0123456789"); at > 0 {
				kind = s.Title[:at]
			}
			whole := toldStep{n, *s}
			whole.Cautions = slices.Clone(s.Cautions)
			was := nearest(told[kind], s.Text)
			if was == nil || !was.spare(s) {
				told[kind] = append(told[kind], whole)
			}
			heed(s, warned, n)
			if at := strings.Index(s.Text, fastening); at > 0 {
				if first := fastened[s.Text[at:]]; first > 0 {
					s.Text = s.Text[:at] + fmt.Sprintf("Fasten as in step %d.", first)
				} else {
					fastened[s.Text[at:]] = n
				}
			}
		}
	}
}

// fastening is how the words begin that say what goes on a terminal; they end a text.
const fastening = "Put the lock washer "

// heed names the step at which a caution was given before, and leaves it out of a step
// that does nothing but what that one does.
func heed(s *page.Step, warned map[page.Caution]int, n int) {
	for c, x := range s.Cautions {
		switch first := warned[x]; {
		case strings.HasPrefix(x.Text, "As at step "):
		case first > 0:
			s.Cautions[c].Text = fmt.Sprintf("As at step %d.", first)
		default:
			warned[x] = n
		}
	}
	if len(s.Cautions) != 1 {
		return
	}
	if at, same := strings.CutPrefix(s.Cautions[0].Text, "As at"); same && strings.HasSuffix(s.Text, "as in"+at) {
		s.Text, s.Cautions = strings.TrimSuffix(s.Text, ".")+", and heed its "+words.Lower(s.Cautions[0].Title)+".", nil
	}
}

// nearest is the step that shares most sentences with a text; nil where none shares any.
func nearest(told []toldStep, text string) *toldStep {
	var out *toldStep
	most := 0
	for i := range told {
		kept := news(text, told[i].Text)
		if n := len(Sentences(text)) - len(Sentences(kept)); n > most {
			out, most = &told[i], n
		}
	}
	return out
}

// spare leaves out of a later step what this one says; it says whether that was all.
func (was *toldStep) spare(s *page.Step) bool {
	kept := news(s.Text, was.Text)
	switch rest := fmt.Sprintf(" The rest is as in step %d.", was.number); {
	case kept == "":
		s.Text = fmt.Sprintf("Do as in step %d.", was.number)
	case len(kept)+len(rest) < len(s.Text): // else it is no longer to say it again
		s.Text = kept + rest
	}
	for c := range s.Cautions {
		for _, old := range was.Cautions {
			if s.Cautions[c].Text == old.Text {
				s.Cautions[c].Text = fmt.Sprintf("As at step %d.", was.number)
			}
		}
	}
	return kept == ""
}

// news is what of a text another does not say.
func news(text, said string) string {
	before, out := Sentences(said), []string{}
	for _, s := range Sentences(text) {
		if slices.Contains(before, s) {
			continue
		}
		out = append(out, s)
	}
	return words.Sentences(out...)
}

// Sentences cuts a text behind every full stop that a capital letter or a figure follows.
func Sentences(text string) []string {
	var out []string
	start := 0
	for i := 0; i+2 < len(text); i++ {
		if next, _ := utf8.DecodeRuneInString(text[i+2:]); strings.IndexByte(".?!", text[i]) >= 0 && text[i+1] == ' ' && (unicode.IsUpper(next) || unicode.IsDigit(next)) {
			out = append(out, text[start:i+1])
			start = i + 2
		}
	}
	return words.NonEmpty(append(out, strings.TrimSpace(text[start:]))...)
}
