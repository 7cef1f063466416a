package export

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clampwright/export/steps"
	"clampwright/testdata/outside"
)

// What each example's card may be at most: words read (those in pictures and of the
// controls that are not printed do not count; a number and its unit are one word), bytes,
// and pages on its own paper.
var cardLimits = map[string]struct{ words, bytes, pages int }{
	"four-cell-offcut": {2950, 370_000, 10}, "eight-cell-plywood": {3240, 440_000, 11}, "sixteen-cell-two-rows": {3780, 520_000, 12}, "fourteen-cell-three-rows": {3780, 510_000, 12},
	"three-cell-ribs": {3230, 520_000, 11}, "two-cell-frames": {2460, 280_000, 9}, "four-small-separators": {3140, 270_000, 11}, "fouled-on-purpose": {3520, 270_000, 13}, "six-cell-pads": {2930, 320_000, 11},
	"four-cell-glued-plates": {3150, 310_000, 11}, "six-cell-double-terminals": {2700, 320_000, 10}, "four-cell-weld-tabs": {2850, 320_000, 10},
}

// wholeWord is what is kept on one line, within a word or beside a point.
var wholeWord = regexp.MustCompile(`<span class="one">([^<]*)</span>`)

func TestTheCardIsShort(t *testing.T) {
	unread := regexp.MustCompile(`(?s)<(script|style|head|svg)\b.*?</(script|style|head|svg)>|<p id="picked".*?<figcaption>.*?</figcaption>`)
	for _, name := range exampleNames(t) {
		card := string(made(t, name).files["build-sheet.html"])
		whole := wholeWord.ReplaceAllString(unread.ReplaceAllString(card, " "), "$1")
		text := html.UnescapeString(anyTag.ReplaceAllString(whole, " "))
		words := len(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }))
		t.Logf("%s: %d words, %d bytes", name, words, len(card))
		if most := cardLimits[name]; words > most.words || len(card) > most.bytes {
			t.Errorf("%s: %d words and %d bytes, at most %d and %d", name, words, len(card), most.words, most.bytes)
		}
	}
}

// A browser's print has no more pages than it may.
func TestTheCardHasFewPages(t *testing.T) {
	chromium := outside.Program(t, "chromium")
	for _, name := range exampleNames(t) {
		dir := t.TempDir()
		page, print := filepath.Join(dir, "card.html"), filepath.Join(dir, "card.pdf")
		if err := os.WriteFile(page, made(t, name).files["build-sheet.html"], 0o600); err != nil {
			t.Fatal(err)
		}
		outside.Run(t, chromium, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--user-data-dir="+dir, "--print-to-pdf="+print, "file://"+page)
		info := outside.Run(t, "pdfinfo", print)
		m := regexp.MustCompile(`Pages:\s+(\d+)`).FindStringSubmatch(info)
		if m == nil {
			t.Fatalf("%s: %s", name, info)
		}
		n, _ := strconv.Atoi(m[1])
		t.Logf("%s: %d pages", name, n)
		if n > cardLimits[name].pages {
			t.Errorf("%s: %d pages, at most %d", name, n, cardLimits[name].pages)
		}
	}
}

// A sentence of a step has at most 20 words, one elsewhere 25 (ASD-STE100, rules 5.1 and
// 6.1, from memory: a number with its unit is one word, and a colon ends a sentence).
const mostStepWords, mostWords = 20, 25

// tied is a number with its unit or a fraction, inner what a builder does not know: words
// of the workshop of this program.
var (
	tied  = regexp.MustCompile(`(\d%?\)?) ((?:in|mm|V|A|Ah|W|mV|lbf|lbf·in|psi|kPa|MPa|N|N·m|ohm|kiloohm|hours?|years?|months|%|°C|x)\b|\d+/\d+|%|\+|-)`)
	inner = regexp.MustCompile(`(?i)\b(nets?|nodes?|crossed jumpers?|row 1|clamp certainty|growth table|chain[ -]closed|reckoned|anew|as told|told here|instances?|sigma|seeds?|solver|iterations?|mesh|prior|topology|envelope|epsilon|NaN|Inf|nil|deviate)\b`)
)

// long are the sentences of a text of more words than may be.
func long(text string, most int) (out []string) {
	for _, sentence := range steps.Sentences(strings.ReplaceAll(strings.ReplaceAll(text, "; ", ". List "), ": ", ". List ")) {
		one := strings.TrimPrefix(sentence, "List ")
		if one != sentence && strings.Count(one, ", ") >= 3 || !strings.ContainsAny(one[len(one)-1:], ".!?:") { // a list, or a name
			continue
		}
		for was := ""; was != one; {
			was, one = one, tied.ReplaceAllString(one, "${1}_$2")
		}
		if n := len(strings.Fields(one)); n > most {
			out = append(out, fmt.Sprintf("%d words: %s", n, sentence))
		}
	}
	return out
}

// No step has a long sentence or a word that a builder does not know.
func TestStepsAreInWorkshopWords(t *testing.T) {
	for _, name := range exampleNames(t) {
		for _, s := range allSteps(made(t, name).job) {
			said := s.Text
			for _, c := range s.Cautions {
				said += " " + c.Text
			}
			if w := inner.FindString(said); w != "" {
				t.Errorf("%s: %s: %q", name, s.Title, w)
			}
			for _, l := range long(said, mostStepWords) {
				t.Errorf("%s: %s: %s", name, s.Title, l)
			}
		}
	}
}

// Nor has any other text of the three documents.
func TestDocumentsAreInWorkshopWords(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range exampleNames(t) {
		for _, doc := range []string{"build-sheet.html", "checks.html", "forms.html"} {
			for _, line := range pageText(string(made(t, name).files[doc])) {
				for _, said := range strings.Split(line, " | ") {
					if seen[said] {
						continue
					}
					seen[said] = true
					if w := inner.FindString(said); w != "" {
						t.Errorf("%s: %s: %q in %s", name, doc, w, said)
					}
					for _, l := range long(said, mostWords) {
						t.Errorf("%s: %s: %s", name, doc, l)
					}
				}
			}
		}
	}
}
