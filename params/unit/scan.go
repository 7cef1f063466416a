package unit

import (
	"math/big"
	"strings"
	"unicode"
)

// Limits of a number's text. They bound the work and keep every accepted value
// far inside what a float64 holds.
const (
	maxText     = 100 // characters of a quantity
	maxExponent = 30  // power of ten written behind e
)

// vulgar are the one-character fractions of Unicode that a ruler has.
var vulgar = map[rune][2]int64{
	'½': {1, 2}, '¼': {1, 4}, '¾': {3, 4}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
	'⅓': {1, 3}, '⅔': {2, 3},
}

// scanner reads numbers and unit words from one quantity.
type scanner struct {
	text     []rune // without white space at its ends
	lead     int    // characters left out at the beginning
	pos      int
	expected string // for errors
}

// newScanner refuses an empty or endless text.
func newScanner(text, expected string) (*scanner, error) {
	s := &scanner{expected: expected}
	if len(text) > 4*maxText {
		return nil, s.fail(0, "a text that is too long", "")
	}
	s.text = []rune(strings.TrimSpace(text))
	s.lead = len([]rune(text)) - len([]rune(strings.TrimLeftFunc(text, unicode.IsSpace)))
	switch {
	case len(s.text) == 0:
		return nil, s.fail(0, "nothing", "")
	case len(s.text) > maxText:
		return nil, s.fail(maxText, "a text that is too long", "")
	}
	return s, nil
}

func (s *scanner) fail(at int, found, suggestion string) error {
	return &ParseError{Found: found, Expected: s.expected, Suggestion: suggestion, Offset: s.lead + at}
}

func (s *scanner) peek() rune {
	if s.pos < len(s.text) {
		return s.text[s.pos]
	}
	return 0
}

// peekAt is the character n places on.
func (s *scanner) peekAt(n int) rune {
	if s.pos+n < len(s.text) {
		return s.text[s.pos+n]
	}
	return 0
}

func (s *scanner) done() bool { return s.pos >= len(s.text) }

func (s *scanner) skipSpace() {
	for !s.done() && unicode.IsSpace(s.text[s.pos]) {
		s.pos++
	}
}

func isDigit(c rune) bool { return c >= '0' && c <= '9' }
func isSlash(c rune) bool { return c == '/' || c == '\u2044' }
func isMinus(c rune) bool { return c == '-' || c == '\u2212' }

// number reads one number: an optional sign, then 12, 12.7, .5, 1e-3, 7/16,
// 8 13/16, 8-13/16 or 8½.
func (s *scanner) number() (*big.Rat, error) {
	negative := isMinus(s.peek())
	if negative || s.peek() == '+' {
		s.pos++
		if c := s.peek(); isMinus(c) || c == '+' {
			return nil, s.fail(s.pos, "two signs", "write one sign or none")
		}
	}
	v, err := s.unsigned()
	if err == nil && negative {
		v.Neg(v)
	}
	return v, err
}

func (s *scanner) unsigned() (*big.Rat, error) {
	if v, ok := s.vulgar(); ok {
		return v, nil
	}
	start := s.pos
	digits := s.digits()
	switch c := s.peek(); {
	case digits == "" && c != '.':
		return nil, s.noNumber()
	case c == ',':
		return nil, s.comma()
	case c == '_' || c == '\'' && isDigit(s.peekAt(1)) && isDigit(s.peekAt(2)) && isDigit(s.peekAt(3)):
		return nil, s.fail(s.pos, "a mark between digits", "write the digits without marks")
	case c == '.' || c == 'e' || c == 'E':
		return s.decimal(start, digits)
	}
	if err := s.leadingZero(start, digits); err != nil {
		return nil, err
	}
	if isSlash(s.peek()) {
		return s.fraction(start, digits)
	}
	return s.mixed(digits)
}

// noNumber is the error where a number should begin.
func (s *scanner) noNumber() error {
	rest := s.text[s.pos:]
	word := strings.ToLower(strings.TrimLeft(string(rest), "."))
	if strings.HasPrefix(word, "inf") || strings.HasPrefix(word, "nan") {
		return s.fail(s.pos, quote(rest)+", which is not a finite number", "")
	}
	if len(rest) == 0 {
		return s.fail(s.pos, "no number", "")
	}
	return s.fail(s.pos, quote(rest)+" where a number should stand", "")
}

// comma is the error for 12,7 and 1,000.
func (s *scanner) comma() error {
	text := string(s.text)
	point := strings.ReplaceAll(text, ",", ".")
	if strings.Count(text, ",") > 1 {
		return s.fail(s.pos, "commas in a number", `write "`+strings.ReplaceAll(text, ",", "")+`"`)
	}
	if isDigit(s.peekAt(1)) && isDigit(s.peekAt(2)) && isDigit(s.peekAt(3)) && !isDigit(s.peekAt(4)) {
		return s.fail(s.pos, "a comma in a number", `write "`+strings.ReplaceAll(text, ",", "")+`", or "`+point+`" with a decimal point`)
	}
	return s.fail(s.pos, "a comma in a number", `write "`+point+`" with a decimal point`)
}

// digits reads a run of digits, perhaps none.
func (s *scanner) digits() string {
	start := s.pos
	for isDigit(s.peek()) {
		s.pos++
	}
	return string(s.text[start:s.pos])
}

// leadingZero refuses 010, which some readers take for eight.
func (s *scanner) leadingZero(at int, digits string) error {
	if len(digits) > 1 && digits[0] == '0' {
		trimmed := strings.TrimLeft(digits[:len(digits)-1], "0") + digits[len(digits)-1:]
		return s.fail(at, "a leading zero in "+digits, "write "+trimmed)
	}
	return nil
}

// decimal reads the rest of 12.7 or 1.5e-3, whose whole part is read already.
func (s *scanner) decimal(start int, whole string) (*big.Rat, error) {
	if err := s.leadingZero(start, whole); err != nil {
		return nil, err
	}
	if s.peek() == '.' {
		s.pos++
		if s.digits() == "" {
			if whole == "" {
				s.pos = start
				return nil, s.noNumber()
			}
			return nil, s.fail(s.pos-1, "a point without digits behind it", "")
		}
	}
	mantissa := string(s.text[start:s.pos])
	exponent, err := s.exponent()
	if err != nil {
		return nil, err
	}
	if c := s.peek(); isSlash(c) || c == '.' || c == ',' {
		return nil, s.fail(s.pos, quote([]rune{c})+" behind a decimal number", "")
	}
	v, ok := new(big.Rat).SetString(mantissa + exponent)
	if !ok {
		return nil, s.fail(start, quote([]rune(mantissa))+" where a number should stand", "")
	}
	return v, nil
}

// exponent reads e-3; "" when none stands there (in 5 ea, say).
func (s *scanner) exponent() (string, error) {
	if c := s.peek(); c != 'e' && c != 'E' {
		return "", nil
	}
	start, sign := s.pos, ""
	s.pos++
	if c := s.peek(); c == '-' || c == '+' {
		sign = string(c)
		s.pos++
	}
	digits := s.digits()
	value := 0
	for _, c := range digits {
		value = min(value*10+int(c-'0'), 1000)
	}
	switch {
	case digits == "":
		s.pos = start
		return "", nil
	case value > maxExponent:
		return "", s.fail(start, "an exponent beyond thirty", "")
	}
	return "e" + sign + digits, nil
}

// fraction reads the rest of 7/16, whose numerator is read already.
func (s *scanner) fraction(start int, numerator string) (*big.Rat, error) {
	s.pos++ // the slash
	at := s.pos
	denominator := s.digits()
	if denominator == "" {
		return nil, s.fail(at, "a fraction without a denominator", "")
	}
	if err := s.leadingZero(at, denominator); err != nil {
		return nil, err
	}
	if c := s.peek(); isSlash(c) || c == '.' || c == ',' {
		return nil, s.fail(s.pos, quote([]rune{c})+" behind a fraction", "write a fraction of two whole numbers")
	}
	n, _ := new(big.Int).SetString(numerator, 10)
	d, _ := new(big.Int).SetString(denominator, 10)
	if d.Sign() == 0 {
		return nil, s.fail(start, "a fraction with denominator zero", "")
	}
	return new(big.Rat).SetFrac(n, d), nil
}

// mixed reads what may follow a whole number: a fraction behind a space or a
// hyphen, or a one-character fraction.
func (s *scanner) mixed(digits string) (*big.Rat, error) {
	whole, _ := new(big.Rat).SetString(digits)
	end := s.pos
	s.skipSpace()
	spaced := s.pos > end
	if v, ok := s.vulgar(); ok {
		return v.Add(v, whole), nil
	}
	if isMinus(s.peek()) {
		if spaced || unicode.IsSpace(s.peekAt(1)) {
			return nil, s.fail(s.pos, "a sign between two numbers", "write a mixed number as 8 13/16 or 8-13/16")
		}
		s.pos++
	}
	if !isDigit(s.peek()) {
		s.pos = end
		return whole, nil
	}
	return s.behindWhole(whole)
}

// behindWhole reads the 13/16 of 8 13/16.
func (s *scanner) behindWhole(whole *big.Rat) (*big.Rat, error) {
	start := s.pos
	numerator := s.digits()
	if !isSlash(s.peek()) {
		return nil, s.fail(start, "a second number", "write a mixed number as 8 13/16 or 8-13/16")
	}
	if err := s.leadingZero(start, numerator); err != nil {
		return nil, err
	}
	v, err := s.fraction(start, numerator)
	if err != nil {
		return nil, err
	}
	if v.Cmp(big.NewRat(1, 1)) >= 0 {
		return nil, s.fail(start, "a fraction of one or more behind a whole number", "")
	}
	return v.Add(v, whole), nil
}

func (s *scanner) vulgar() (*big.Rat, bool) {
	f, ok := vulgar[s.peek()]
	if ok {
		s.pos++
		return big.NewRat(f[0], f[1]), true
	}
	return nil, false
}

// word reads up to where a further number begins, or to the end, with the white
// space at its ends left out. Digits inside a unit (kgf/cm2) follow a letter
// and belong to it.
func (s *scanner) word() (text []rune, at int) {
	s.skipSpace()
	at = s.pos
	for !s.done() && !(s.pos > at && s.numberBegins()) {
		s.pos++
	}
	text = s.text[at:s.pos]
	for len(text) > 0 && unicode.IsSpace(text[len(text)-1]) {
		text = text[:len(text)-1]
	}
	return text, at
}

// numberBegins reports whether a number begins here, behind a unit: behind white
// space or the mark for feet.
func (s *scanner) numberBegins() bool {
	switch before := s.text[s.pos-1]; {
	case unicode.IsSpace(before):
	case before == '\'' || before == '′' || before == '’':
	default:
		return false
	}
	c := s.peek()
	return isDigit(c) || (isMinus(c) || c == '+') && isDigit(s.peekAt(1))
}
