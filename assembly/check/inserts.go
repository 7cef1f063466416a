package check

import "clampwright/params"

// namedInsert is a sheet of the chain with its block in the parameter file.
type namedInsert struct {
	name string
	spec *params.Insert
}

// inserts lists the sheets fitted.
func (b *scene) inserts() []namedInsert {
	var all []namedInsert
	if b.fixture.Separator != nil {
		all = append(all, namedInsert{"separators", b.fixture.Separator})
	}
	if b.fixture.Liner != nil {
		all = append(all, namedInsert{"liners", b.fixture.Liner})
	}
	return all
}
