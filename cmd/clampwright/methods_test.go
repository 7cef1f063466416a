package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// mostMethods is how many methods one type may have: more means that everything
// hangs on it.
const mostMethods = 40

// No type of the module has everything hanging on it.
func TestNoTypeHasAllMethods(t *testing.T) {
	root := filepath.Join("..", "..")
	count := map[string]int{} // by folder and type
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv != nil {
				dir, err := filepath.Rel(root, filepath.Dir(path))
				if err != nil {
					return err
				}
				count[filepath.ToSlash(dir)+" "+receiver(f.Recv.List[0].Type)]++
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, n := range count {
		if n > mostMethods {
			t.Errorf("%s has %d methods, more than %d", name, n, mostMethods)
		}
	}
}

// receiver is the name of the type that a method hangs on.
func receiver(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.StarExpr:
		return receiver(x.X)
	case *ast.IndexExpr:
		return receiver(x.X)
	case *ast.IndexListExpr:
		return receiver(x.X)
	case *ast.Ident:
		return x.Name
	}
	return ""
}
