package export

import (
	"fmt"
	"strings"

	"clampwright/assembly/nest"
)

// cutFrom says in words which stock a line is cut from.
func (j *Job) cutFrom(c nest.Cut) string {
	var out []string
	for _, t := range c.Taken {
		words := fmt.Sprintf("%s (%s, %s)", t.On(), boughtWord(t.Bought), j.Fixture.Style.Size([3]float64{t.StockMM[0], t.StockMM[1]}))
		if len(c.Taken) > 1 || c.Missing > 0 {
			words = fmt.Sprintf("%d from %s", t.Count, words)
		}
		out = append(out, words)
	}
	switch {
	case c.Missing == c.Quantity:
		out = append(out, "no stock listed takes it")
	case c.Missing > 0:
		out = append(out, fmt.Sprintf("no stock listed takes %d more", c.Missing))
	}
	return strings.Join(out, "; ")
}
