package dxf

import (
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/mozillazg/go-unidecode"
)

// maxTextBytes is the longest text value AC1015 readers must take.
const maxTextBytes = 2049

// escape turns text into the ASCII of a DXF text value: %%c, %%p and %%d for
// diameter, plus-minus and degree, \U+XXXX for other characters, Latin letters for those beyond four digits. Percent signs
// that could start such a code, carets and backslashes are escaped as well, so
// that the reader shows exactly what was given.
func escape(s string) (string, error) {
	if !utf8.ValidString(s) {
		return "", fmt.Errorf("text %q is not valid UTF-8", s)
	}
	var b strings.Builder
	for i, r := range s {
		if err := escapeRune(&b, s, i, r); err != nil {
			return "", err
		}
	}
	if b.Len() > maxTextBytes {
		return "", fmt.Errorf("text of %d bytes is longer than %d", b.Len(), maxTextBytes)
	}
	return b.String(), nil
}

func escapeRune(b *strings.Builder, s string, i int, r rune) error {
	switch {
	case r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0:
		return fmt.Errorf("text %q holds a control character", s)
	case r == 'Ø' || r == '⌀':
		b.WriteString("%%c")
	case r == '±':
		b.WriteString("%%p")
	case r == '°':
		b.WriteString("%%d")
	case r == '%' && (strings.HasPrefix(s[i+1:], "%") || strings.HasSuffix(s[:i], "%")):
		b.WriteString(`\U+0025`)
	case r == '\\' || r == '^' || r > '~' && r <= 0xffff:
		fmt.Fprintf(b, `\U+%04X`, r)
	case r > 0xffff: // for which DXF has no code
		b.WriteString(cmp.Or(unidecode.Unidecode(string(r)), "?"))
	default:
		b.WriteRune(r)
	}
	return nil
}
