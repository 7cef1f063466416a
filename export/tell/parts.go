package tell

import (
	"fmt"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

// looseWords say that a line, or some of its pieces, are not in the finished pack.
func looseWords(l assembly.PartLine) string {
	if l.Loose < l.Pieces {
		return fmt.Sprintf(" (%d loose)", l.Loose)
	}
	return " (loose)"
}

// massFacts are the mass of the finished pack, and of what the parts list holds
// besides.
func massFacts(j *job.Job) []page.Fact {
	loose, marks := 0.0, []string{}
	for _, l := range j.Assembly.Bill() {
		if l.LooseG() > 0 {
			loose += l.LooseG()
			marks = append(marks, words.First(l.Part.Mark, l.Part.Name))
		}
	}
	out := []page.Fact{{Label: "In the finished pack", Value: number.Trim(j.Assembly.PackMassG()/1000, 2) + " kg", Note: "with cells; plan the lifting"}}
	if loose > 0 {
		out = append(out, page.Fact{Label: "Loose: tools, and what is taken off again", Value: massWords(loose), Note: strings.Join(marks, ", ")})
	}
	return out
}
