package dxf

import (
	_ "embed" // for frame
	"fmt"
	"io"
	"strings"
)

// frame is the file round the entities: header, tables, blocks and the objects that name
// layouts and plot styles, so that a reader's audit finds nothing to repair. In braces
// stand the drawing's extents, its entities and the next free handle.
//
//go:embed frame.dxf
var frame string

// Handles of the frame: those of its objects end below firstFree; modelSpace owns the
// entities.
const modelSpace owner = 0x15

const firstFree = 0x22

// owner is what the library asks of what entities belong to.
type owner int

// Handle returns it.
func (o owner) Handle() int { return int(o) }

// SetHandle keeps what it is.
func (o owner) SetHandle(*int) {}

// Encode checks d and writes it. The same drawing always gives the same bytes.
// No state is shared between calls, so drawings may be encoded at the same
// time. Errors: a drawing that Validate refuses, or a failed write.
func Encode(w io.Writer, d Drawing) error {
	if err := Validate(d); err != nil {
		return err
	}
	f, next, box := newFormatter(), firstFree, extents(d)
	entities := newEntities(d)
	entities.SetHandle(&next)
	entities.Format(f)
	text := strings.NewReplacer("{ENTITIES}", f.Output(), "{SEED}", fmt.Sprintf("%X", next),
		"{X0}", real(0, box.Min.X), "{Y0}", real(0, box.Min.Y), "{X1}", real(0, box.Max.X), "{Y1}", real(0, box.Max.Y)).Replace(frame)
	if d.About != "" {
		text = f.String(codeComment, d.About) + text
	}
	if _, err := io.WriteString(w, text); err != nil {
		return fmt.Errorf("write drawing: %w", err)
	}
	return nil
}

// codeComment is the group code of what readers pass over.
const codeComment = 999
