package words

import (
	"strings"
	"testing"
)

func TestJoin(t *testing.T) {
	for _, c := range []struct{ in, want string }{{"", ""}, {"a", "a"}, {"a b", "a and b"}, {"a b c", "a, b and c"}} {
		if got := Join(strings.Fields(c.in)); got != c.want {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
	}
}

func TestCapitals(t *testing.T) {
	for _, c := range []struct{ in, up, low string }{{"", "", ""}, {"a rod", "A rod", "a rod"}, {"A rod", "A rod", "a rod"}, {"\u00e9tau", "\u00c9tau", "\u00e9tau"}} {
		if Upper(c.in) != c.up || Lower(c.in) != c.low {
			t.Errorf("%q: %q and %q", c.in, Upper(c.in), Lower(c.in))
		}
	}
}

func TestWithoutEmpty(t *testing.T) {
	if got := Sentences("", "One.", "", "Two."); got != "One. Two." {
		t.Errorf("%q", got)
	}
	if First("", "b", "c") != "b" || First() != "" || Plural(1) != "" || Plural(0) != "s" {
		t.Error("first or plural")
	}
}
