package mark

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
)

// hash is an input's.
var hash = strings.Repeat("0123456789abcdef", 4)

// A mark is read from the middle of any file as it was written; whether it is sealed
// as well, whatever verdict and names it has.
func TestMarkIsFound(t *testing.T) {
	for _, c := range []struct {
		m        Mark
		released bool
	}{
		{New(7, hash, "pass", "four-cell-offcut").Of("P1"), true},
		{New(12, hash, "warn", "Größe (a) 'b' 電池, 5 % +1").Of("P 1/2"), true},
		{New(0, hash, "fail", "").Of(""), false},
	} {
		if c.m.Released() != c.released || strings.Contains(c.m.Line(), "NOT-RELEASED") == c.released || strings.Contains(c.m.Words(), NotReleased) == c.released {
			t.Errorf("%+v: released %v: %s; %s", c.m, c.m.Released(), c.m.Line(), c.m.Words())
		}
		for _, r := range c.m.Line() {
			if r < ' ' || r > '~' || strings.ContainsRune("()'\\<>&\"", r) {
				t.Errorf("%s: %q is not taken as it is by every format", c.m.Line(), r)
			}
		}
		for end, sealed := range map[string]bool{"\n": true, ")": true, "'": true, "\x00": true, "": true} {
			file := Seal([]byte("before\xff\x00" + c.m.Line() + end + "after"))
			if end == "" {
				file = Seal([]byte(c.m.Line()))
			}
			if got, ok, found := Find(file); got != c.m || ok != sealed || !found {
				t.Errorf("%q: %+v, %v, %v", file, got, ok, found)
			}
			for i := range file { // any byte that is changed is told
				edited := bytes.Clone(file)
				edited[i] ^= 2
				if _, ok, _ := Find(edited); ok {
					t.Errorf("%q: byte %d was changed and is not missed", file, i)
				}
			}
		}
		again := New(c.m.Version, hash, c.m.Verdict, "").Of("")
		if got, ok, found := Find([]byte("TEXT\n" + c.m.Words() + "\n")); got != again || ok || !found {
			t.Errorf("words alone: %+v, %v, %v", got, ok, found)
		}
		// 80 bytes hold all up to the seal, and a short mark
		if at := strings.Index(c.m.Line(), Unsealed) + len(Unsealed); at > 70 {
			t.Errorf("%s: the seal ends at byte %d", c.m.Line(), at)
		}
	}
	for _, text := range []string{"", "clampwright", "clampwright 7 is a program", "solid made elsewhere"} {
		if m, ok, found := Find([]byte(text)); ok || found || m != (Mark{}) {
			t.Errorf("%q: %+v", text, m)
		}
	}
}

func TestSealed(t *testing.T) {
	var b bytes.Buffer
	write := func(w io.Writer) error { _, err := io.WriteString(w, "a "+Unsealed); return err }
	if err := Sealed(write)(&b); err != nil || !IsSealed(b.Bytes()) {
		t.Errorf("%q: %v", b.String(), err)
	}
	b.Reset()
	full := errors.New("no room")
	if err := Sealed(func(io.Writer) error { return full })(&b); !errors.Is(err, full) || b.Len() > 0 {
		t.Errorf("%q: %v", b.String(), err)
	}
}

func TestVersion(t *testing.T) {
	if Version() < 1 {
		t.Errorf("version %d from %q", Version(), recorded)
	}
}

func TestSeal(t *testing.T) {
	text := Seal([]byte("{\"a\": 1, \"digest\": \"" + Unsealed + "\"}\n"))
	other := []byte("seal:" + strings.Repeat("1", 16) + " and more; " + string(Seal([]byte(Unsealed))))
	for want, cases := range map[bool][][]byte{
		true:  {text, Seal(append([]byte("of "+string(other)+" "), Unsealed...))},
		false: {nil, []byte("x"), other, append(text, ' '), []byte(strings.Replace(string(text), "1", "2", 1)), []byte(Unsealed)},
	} {
		for _, text := range cases {
			if IsSealed(text) != want {
				t.Errorf("%q: want %v", text, want)
			}
		}
	}
}

// A header of few bytes keeps names by whole letters: what is read back is the beginning
// of the name, whatever its script.
func TestMarkWithin(t *testing.T) {
	m := New(55, hash, "warn", "電池 Größe 四つ").Of("P1")
	for n := len(m.Of("").Line()) - 40; n <= len(m.Line())+1; n++ {
		line := m.Within(n)
		got, _, found := Find([]byte(line + " "))
		if !found || !strings.HasPrefix(m.Fixture, got.Fixture) || !strings.HasPrefix(m.Part, got.Part) || strings.ContainsRune(got.Fixture, '\ufffd') {
			t.Errorf("%d bytes: %q reads as %+v", n, line, got)
		}
		if whole := New(55, hash, "warn", "").Line(); len(line) > max(n, len(whole)) {
			t.Errorf("%d bytes: %q has %d", n, line, len(line))
		}
	}
	if m.Within(500) != m.Line() {
		t.Error("a name that fits is cut")
	}
}
