package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// ranks is the order of the packages: each may import only those of a lower
// rank. A new package is added here, on purpose.
var ranks = map[string]int{
	"formula/exact": 0, "formula/date": 0, "formula/finding": 0, "formula/outside": 0, "templates": 0,
	"formula/quantity": 1, "formula": 1,
	"inci":         2,
	"label/market": 3,
	"label/font":   2, "label/font/cubic": 3, "label/scene": 3, "label/look": 3, "label/picture": 4,
	"label":        5,
	"label/sheet":  3,
	"label/layout": 6,
	"label/weigh":  4, "label/weigh/chart": 6,
	"label/record":     6,
	"label/paper":      7,
	"label/render/pdf": 7, "label/render/svg": 7,
	"label/stock": 5, "label/code": 5, "label/card": 6,
	"label/record/journal": 0, "label/record/keep": 1,
	"label/book":      8,
	"cmd/panelwright": 9,
}

// exactOnly are the packages in which no decision may rest on a float.
var exactOnly = []string{"formula", "formula/exact", "formula/date", "formula/finding", "formula/quantity", "inci", "label/market", "label", "label/layout", "label/scene", "label/stock", "label/record", "label/code", "label/card", "label/weigh/chart", "label/sheet"}

func TestArchitecture(t *testing.T) {
	root := "../.."
	fset := token.NewFileSet()
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && len(d.Name()) > 2 || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(rel)
		rank, known := ranks[pkg]
		if !known {
			t.Errorf("%s: package %s has no rank; add it to ranks", path, pkg)
			return nil
		}
		seen[pkg] = true
		f, err := parser.ParseFile(fset, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, imp := range f.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			own, ok := strings.CutPrefix(name, "panelwright/")
			if !ok {
				continue
			}
			if r, known := ranks[own]; known && r >= rank {
				t.Errorf("%s imports %s, which does not stand below it", path, own)
			}
		}
		lint(t, fset, pkg, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg := range ranks {
		if !seen[pkg] {
			t.Errorf("ranks names %s, but there is no such package", pkg)
		}
	}
}

// lint looks for a clock outside cmd and for floats where decisions are made.
func lint(t *testing.T, fset *token.FileSet, pkg string, f *ast.File) {
	floats := false
	for _, p := range exactOnly {
		floats = floats || p == pkg
	}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && x.Name == "time" && n.Sel.Name == "Now" && !strings.HasPrefix(pkg, "cmd/") {
				t.Errorf("%s: time.Now outside cmd", fset.Position(n.Pos()))
			}
		case *ast.Ident:
			if floats && (n.Name == "float64" || n.Name == "float32") {
				t.Errorf("%s: %s in package %s", fset.Position(n.Pos()), n.Name, pkg)
			}
		}
		return true
	})
}
