package dxf

import (
	"bufio"
	"fmt"
	"io"

	"github.com/yofu/dxf/block"
	"github.com/yofu/dxf/class"
	"github.com/yofu/dxf/format"
)

// section is one part of the file; the library's own sections satisfy it too.
type section interface {
	Format(format.Formatter)
	SetHandle(*int)
}

// Encode checks d and writes it. The same drawing always gives the same bytes.
// No state is shared between calls, so drawings may be encoded at the same
// time. Errors: a drawing that Validate refuses, or a failed write.
func Encode(w io.Writer, d Drawing) error {
	if err := Validate(d); err != nil {
		return err
	}
	f := newFormatter()
	sections := build(d)
	handle := 1
	for _, s := range sections[1:] {
		s.SetHandle(&handle)
	}
	sections[0].SetHandle(&handle) // the header carries the next free handle
	if d.About != "" {
		f.WriteString(codeComment, d.About)
	}
	for _, s := range sections {
		s.Format(f)
	}
	f.WriteString(0, "EOF")
	bw := bufio.NewWriter(w)
	if _, err := f.WriteTo(bw); err != nil {
		return fmt.Errorf("write drawing: %w", err)
	}
	if err := bw.Flush(); err != nil {
		return fmt.Errorf("write drawing: %w", err)
	}
	return nil
}

// codeComment is the group code of what readers pass over.
const codeComment = 999

// build makes the six sections in file order, the header first.
func build(d Drawing) []section {
	box := extents(d)
	model := &blockRecord{name: "*Model_Space"}
	paper := &blockRecord{name: "*Paper_Space"}
	objects := newObjects(box, model, paper)
	tables, layers := newTables(model, paper, objects.plotStyle)
	entities := newEntities(d, layers, model)
	blocks := block.Blocks{block.NewBlock(model.name, ""), block.NewBlock(paper.name, "")}
	for _, b := range blocks {
		b.SetLayer(layers["0"])
	}
	return []section{&header{box: box}, class.New(), tables, blocks, entities, objects}
}
