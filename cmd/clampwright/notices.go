package main

import _ "embed"

// notices are the licences of what is built into the program beside its own code: the
// libraries and the language's own. A test holds them against the modules. FreeType's
// rasterizer is used under the FreeType License, not the other it is offered under.
//
//go:embed notices.txt
var notices string
