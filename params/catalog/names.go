package catalog

import (
	"strings"
	"unicode"
)

// sameName reports whether two row names are one: spaces, hyphens, underscores,
// the case of letters and the kind of multiplication sign don't count.
func sameName(a, b string) bool { return loose(a) == loose(b) }

// loose is a name without what people write one way or the other.
func loose(name string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(name) {
		switch {
		case unicode.IsSpace(c) || c == '-' || c == '_' || c == '\u2010' || c == '\u2011':
		case c == '×' || c == '*':
			b.WriteByte('x')
		case c == '\u2044':
			b.WriteByte('/')
		default:
			b.WriteRune(c)
		}
	}
	return strings.ReplaceAll(b.String(), "aluminum", "aluminium")
}

// byName finds a row by its exact name, then by its loose one.
func byName[T any](rows []T, want string, name func(*T) string) (T, bool) {
	for i := range rows {
		if name(&rows[i]) == want {
			return rows[i], true
		}
	}
	for i := range rows {
		if sameName(name(&rows[i]), want) {
			return rows[i], true
		}
	}
	var none T
	return none, false
}

// materialAlias are other words of the trade for a material row.
var materialAlias = map[string]string{
	"polyethylene": "hdpe", "pe": "hdpe", "pehd": "hdpe", "polypropylene": "pp", "pom": "acetal",
	"g10": "fr4", "plywood": "birch plywood", "birchply": "birch plywood", "birch": "birch plywood",
	"polycarbonate": "pc", "mildsteel": "steel", "carbonsteel": "steel", "a36": "steel", "s235": "steel",
	"stainless": "304", "stainlesssteel": "304", "c110": "copper", "siliconefoam": "silicone foam", "spongerubber": "sponge rubber 2A3", "foam": "silicone foam",
	"polyester": "pet", "6061": "6061-T6", "6063": "6063-T5", "5052": "5052-H32",
}
