package export

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"clampwright/export/steps"
)

// The most words and bytes of each example's card; words in pictures are not counted, a
// number and its unit are one word.
var cardLimits = map[string]struct{ words, bytes int }{
	"four-cell-offcut": {3900, 450_000}, "eight-cell-plywood": {4800, 550_000}, "sixteen-cell-two-rows": {6500, 900_000}, "fourteen-cell-three-rows": {6400, 1_100_000},
	"three-cell-ribs": {3900, 630_000}, "two-cell-frames": {3000, 330_000}, "four-small-separators": {4000, 350_000}, "fouled-on-purpose": {4500, 350_000},
	"six-cell-pads": {4300, 410_000},
}

func TestTheCardIsShort(t *testing.T) {
	unread := regexp.MustCompile(`(?s)<(script|style|head|svg)\b.*?</(script|style|head|svg)>`)
	for _, name := range exampleNames(t) {
		card := string(made(t, name).files["build-sheet.html"])
		text := html.UnescapeString(anyTag.ReplaceAllString(unread.ReplaceAllString(card, " "), " "))
		words := len(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }))
		t.Logf("%s: %d words, %d bytes", name, words, len(card))
		if most := cardLimits[name]; words > most.words || len(card) > most.bytes {
			t.Errorf("%s: %d words and %d bytes, at most %d and %d", name, words, len(card), most.words, most.bytes)
		}
	}
}

// mostStepWords is how long a sentence of a step may be (ASD-STE100 has 20, from memory:
// a number with its unit is one word, and a colon ends a sentence).
const mostStepWords = 24

// No step has a long sentence, or a word of the workshop of this program.
func TestStepsAreInWorkshopWords(t *testing.T) {
	tied := regexp.MustCompile(`(\d) (in|mm|V|A|Ah|W|mV|lbf|lbf·in|N|N·m|ohm|kiloohm|hours?|%|\d+/\d+|x \d)`)
	inner := regexp.MustCompile(`(?i)\b(nets?|crossed jumpers?|row 1|clamp certainty|growth table|chain closed|reckoned|anew|as told|told here)\b`)
	for _, name := range exampleNames(t) {
		for _, s := range allSteps(made(t, name).job) {
			said := s.Text
			for _, c := range s.Cautions {
				said += " " + c.Text
			}
			if w := inner.FindString(said); w != "" {
				t.Errorf("%s: %s: %q", name, s.Title, w)
			}
			for _, sentence := range steps.Sentences(strings.ReplaceAll(said, ": ", ". List ")) {
				if strings.HasPrefix(sentence, "List ") { // what a colon opens
					continue
				}
				one := tied.ReplaceAllString(tied.ReplaceAllString(sentence, "$1_$2"), "$1_$2")
				if n := len(strings.Fields(one)); n > mostStepWords {
					t.Errorf("%s: %s: %d words: %s", name, s.Title, n, sentence)
				}
			}
		}
	}
}
