// Package mark is what every file for the shop says of itself: the program's version,
// the input it was made from, the verdict, the part and the fixture, and a seal that
// tells whether anybody has changed it since. It is read back from the file alone.
package mark

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"fmt"
	"io"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// recorded is the version and the digest of what the examples gave with it.
//
//go:embed version.txt
var recorded string

// Version is the program's: a number that is raised whenever output changes, which a
// test of the examples sees to.
func Version() int {
	number, _, _ := strings.Cut(recorded, " ")
	n, _ := strconv.Atoi(number)
	return n
}

// Mark is what a file says of itself.
type Mark struct {
	Version int
	Input   string // hash of the input, its first inputDigits
	Verdict string // pass, warn or fail
	Part    string // the mark on the part, or what else the file is of
	Fixture string
}

const inputDigits = 12

// New is the mark of a fixture's files.
func New(version int, input, verdict, fixture string) Mark {
	return Mark{Version: version, Input: input[:min(len(input), inputDigits)], Verdict: verdict, Fixture: fixture}
}

// Of is the mark of one part's files.
func (m Mark) Of(part string) Mark {
	m.Part = part
	return m
}

// Released reports whether the file was made with no check failing.
func (m Mark) Released() bool { return m.Verdict != "fail" }

// Program is the program with its version.
func (m Mark) Program() string { return fmt.Sprint("clampwright ", m.Version) }

// NotReleased is written across what was made over a failing check.
const NotReleased = "NOT RELEASED"

// Line is the mark as a program reads it: letters that every format takes as they
// are, with a place for the seal early enough for the 80 bytes that STL has.
func (m Mark) Line() string {
	return fmt.Sprintf("clampwright %d %s %s%s %s %s %s", m.Version, m.Input, m.Verdict,
		m.either("", " NOT-RELEASED"), Unsealed, url.QueryEscape(m.Part), url.QueryEscape(m.Fixture))
}

// Within is the line in that many bytes: names lose their ends, by whole letters.
func (m Mark) Within(most int) string {
	for len(m.Line()) > most && m.Part+m.Fixture != "" {
		of := &m.Fixture
		if *of == "" {
			of = &m.Part
		}
		_, size := utf8.DecodeLastRuneInString(*of)
		*of = (*of)[:len(*of)-size]
	}
	return m.Line()
}

// Words are the mark as a person reads it.
func (m Mark) Words() string {
	return fmt.Sprintf("%s, %s, input %s, %s%s, %s", m.Part, m.Fixture, m.Input, m.Verdict, m.either("", " "+NotReleased), m.Program())
}

func (m Mark) either(released, not string) string {
	if m.Released() {
		return released
	}
	return not
}

var (
	lineForm = regexp.MustCompile(`clampwright ([0-9]+) ([0-9a-f]+) (pass|warn|fail)(?: NOT-RELEASED)? seal:[0-9a-f]{16} ([\w.~%+-]*)(?: ([\w.~%+-]*))?`)
	wordForm = regexp.MustCompile(`input ([0-9a-f]+), (pass|warn|fail)(?: NOT RELEASED)?, clampwright ([0-9]+)`)
)

// Find reads the mark of a file and whether its seal is that of the rest. A file that
// another program has saved anew may have kept the words alone: unsealed.
func Find(file []byte) (m Mark, sealed, found bool) {
	if s := lineForm.FindSubmatch(file); s != nil {
		m = Mark{Input: string(s[2]), Verdict: string(s[3]), Part: unescaped(s[4]), Fixture: unescaped(s[5])}
		m.Version, _ = strconv.Atoi(string(s[1]))
		return m, IsSealed(file), true
	}
	if s := wordForm.FindSubmatch(file); s != nil {
		m = Mark{Input: string(s[1]), Verdict: string(s[2])}
		m.Version, _ = strconv.Atoi(string(s[3]))
		return m, false, true
	}
	return m, false, false
}

// unescaped is a name as it was; one that was cut short stays as it is.
func unescaped(s []byte) string {
	if name, err := url.QueryUnescape(string(s)); err == nil {
		return name
	}
	return string(s)
}

// Unsealed stands in a file for the seal that Seal puts there.
const Unsealed = "seal:0000000000000000"

var sealForm = regexp.MustCompile("seal:[0-9a-f]{16}")

// Seal puts the first digits of the hash of a file into it, in the place of Unsealed.
func Seal(file []byte) []byte {
	if at := bytes.Index(file, []byte(Unsealed)); at >= 0 {
		sum := sha256.Sum256(file)
		file = bytes.Clone(file)
		copy(file[at:], fmt.Sprintf("seal:%x", sum[:8]))
	}
	return file
}

// IsSealed reports whether a file is as Seal returned it.
func IsSealed(file []byte) bool {
	for _, at := range sealForm.FindAllIndex(file, -1) {
		plain := bytes.Clone(file)
		if copy(plain[at[0]:], Unsealed); bytes.Index(plain, []byte(Unsealed)) == at[0] && bytes.Equal(Seal(plain), file) {
			return true
		}
	}
	return false
}

// Sealed is an encoder whose file is sealed.
func Sealed(encode func(io.Writer) error) func(io.Writer) error {
	return func(w io.Writer) error {
		var b bytes.Buffer
		if err := encode(&b); err != nil {
			return err
		}
		_, err := w.Write(Seal(b.Bytes()))
		return err
	}
}
