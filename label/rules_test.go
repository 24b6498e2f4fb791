package label_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/market"
)

// Codes are lower-case words and figures, joined by - within parts joined by a
// full stop, and no code stands for two rules.
func TestRegister(t *testing.T) {
	form := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9]+(-[a-z0-9]+)*)+$`)
	groups := map[string]int{}
	for i, g := range label.RuleGroups() {
		groups[g.ID] = i
		if g.Title == "" || g.About == "" {
			t.Errorf("group %q lacks a title or what it is about", g.ID)
		}
	}
	seen := map[finding.Code]bool{}
	last := 0
	for _, r := range label.Rules() {
		for _, c := range r.Codes() {
			if !form.MatchString(string(c)) {
				t.Errorf("%s is not well formed", c)
			}
			if seen[c] {
				t.Errorf("%s stands twice", c)
			}
			seen[c] = true
			if own, ok := label.RuleOf(c); !ok || own.Code != r.Code {
				t.Errorf("RuleOf(%s) = %q, %v; want %s", c, own.Code, ok, r.Code)
			}
		}
		at, ok := groups[r.Group]
		if !ok || at < last {
			t.Errorf("%s: group %q is unknown or out of order", r.Code, r.Group)
		}
		last = max(last, at)
		judged := r.State == label.Judged
		if !judged && r.State != label.Partly && r.State != label.NotJudged {
			t.Errorf("%s: no such state: %q", r.Code, r.State)
		}
		if judged == (r.Because != "") {
			t.Errorf("%s is %s, because %q", r.Code, r.State, r.Because)
		}
		if r.Title == "" || r.Source.Text == "" || strings.Contains(r.Title, "\n") {
			t.Errorf("%s lacks a title of one line or a source", r.Code)
		}
		if !slices.Contains([]finding.Seen{finding.Yes, finding.Secondary, finding.Memory, finding.Practice}, r.Source.Seen) {
			t.Errorf("%s: seen %q", r.Code, r.Source.Seen)
		}
		for _, m := range r.Markets {
			if !slices.Contains(inci.Markets, m) {
				t.Errorf("%s: no market %q", r.Code, m)
			}
		}
		if len(r.Markets) == 0 {
			t.Errorf("%s names no market", r.Code)
		}
	}
}

func TestLeftOpen(t *testing.T) {
	partly, not := label.LeftOpen([]inci.Market{inci.CA})
	for _, r := range append(partly, not...) {
		if !slices.Contains(r.Markets, inci.CA) {
			t.Errorf("%s is not about Canada", r.Code)
		}
	}
	if p, n := label.LeftOpen(inci.Markets); len(p) <= len(partly) || len(n) <= len(not) {
		t.Errorf("all markets leave open %d and %d, Canada alone %d and %d", len(p), len(n), len(partly), len(not))
	}
	if got, want := label.LastReviewed(inci.Markets), market.For(inci.US).Reviewed; got > want || got == 0 {
		t.Errorf("LastReviewed = %s, later than %s", got, want)
	}
}

// Every code that the program can give is in the register: those written in the
// source, and those that come out of the tables of law.
func TestRegisterIsComplete(t *testing.T) {
	codes := append(codesInSource(t), codesInTables()...)
	if len(codes) < 150 {
		t.Fatalf("only %d codes were found; the search is broken", len(codes))
	}
	for _, c := range codes {
		if _, ok := label.RuleOf(c); !ok {
			t.Errorf("%s is not in the register", c)
		}
	}
}

// codesInTables returns the codes that the rows of law give findings of.
func codesInTables() (codes []finding.Code) {
	codes = append(codes, market.Codes()...)
	for _, m := range inci.Markets {
		for _, l := range inci.Limits(m) {
			if l.Question || l.Forbidden || l.HasMax || l.Together {
				codes = append(codes, label.RuleOfLimit(m, l))
			}
			if l.Conditions != "" && !l.Question && !l.Forbidden && !l.Together {
				codes = append(codes, label.TermsOfLimit(m, l))
			}
		}
	}
	return codes
}

// codesInSource reads the codes out of the Go files: whole ones, such as
// "net.over", wherever they stand, and those to which a market is put in front.
func codesInSource(t *testing.T) (codes []finding.Code) {
	whole := regexp.MustCompile(`^(allergen|book|colour|calendar|formula|list|material|net|oil|origin|pack|product|scent|set|soap|us)(\.[a-z]+(-[a-z]+)*)+$`)
	phrase := func(s string) bool { _, ok := market.PhraseFor(s, "en"); return ok }
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.BasicLit:
				if s := text(n); whole.MatchString(s) && !phrase(s) && !strings.HasSuffix(s, ".yaml") && !strings.HasSuffix(s, ".csv") {
					codes = append(codes, finding.Code(s))
				}
			case *ast.CallExpr:
				codes = append(codes, marketCodes(path, n)...)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return codes
}

// marketCodes returns the codes of calls such as n.find("e-mark", ...) in
// package market and s.missing("origin", ...) in package label, for one market
// that has them.
func marketCodes(path string, call *ast.CallExpr) (codes []finding.Code) {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		name = f.Sel.Name
	case *ast.Ident:
		name = f.Name
	}
	if len(call.Args) == 0 {
		return nil
	}
	lit, ok := call.Args[0].(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return nil
	}
	end := ""
	switch dir := filepath.ToSlash(filepath.Dir(path)); {
	case dir == "../label/market" && name == "find" && strings.Contains(path, "net"):
		end = "net." + text(lit)
	case dir == "../label/market" && name == "find":
		end = text(lit)
	case dir == "../label" && name == "missing":
		end = "missing." + text(lit)
	default:
		return nil
	}
	for _, m := range inci.Markets {
		c := finding.Code(string(m) + "." + end)
		if _, ok := label.RuleOf(c); ok {
			return []finding.Code{c}
		}
	}
	return []finding.Code{finding.Code("{market}." + end)}
}

func text(lit *ast.BasicLit) string {
	s, _ := strconv.Unquote(lit.Value)
	return s
}
