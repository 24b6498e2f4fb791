package label_test

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
	"panelwright/label/book"
	"panelwright/label/weigh"
)

// A case of testdata/rules is a text archive. Its comment says what it is about,
// then come lines of "key: value":
//
//	on: 2026-11-25          the day judged; placed: for another day of first supply, until: for a calendar
//	want: eu.annex-v.limit; strong balm; eu ni
//
// The files whose names begin with "fail" are a book that gives the findings
// wanted and no others, except notes of rules that are not wanted anywhere in
// the case. Those that begin with "pass" are a book without any finding of the
// rules wanted. Both are read together with common.yaml, unless common: none.
type ruleCase struct {
	name, on, placed, until, common string
	want                            []told
	fail, pass                      fstest.MapFS
}

// told is one finding, by what a case asks for.
type told struct{ Code, Product, Market string }

func (a told) compare(b told) int {
	return cmp.Or(cmp.Compare(a.Product, b.Product), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Market, b.Market))
}

const casesDir = "../testdata/rules"

var keyLine = regexp.MustCompile(`^(on|placed|until|common|want): (.*)$`)

func readCase(path string) (ruleCase, error) {
	a, err := txtar.ParseFile(path)
	if err != nil {
		return ruleCase{}, err
	}
	c := ruleCase{name: strings.TrimSuffix(filepath.Base(path), ".txtar"), fail: fstest.MapFS{}, pass: fstest.MapFS{}}
	about := false
	for line := range strings.Lines(string(a.Comment)) {
		m := keyLine.FindStringSubmatch(strings.TrimSpace(line))
		about = about || m == nil && strings.TrimSpace(line) != ""
		if m == nil {
			continue
		}
		switch m[1] {
		case "on":
			c.on = m[2]
		case "placed":
			c.placed = m[2]
		case "until":
			c.until = m[2]
		case "common":
			c.common = m[2]
		case "want":
			part := strings.Split(m[2]+";;", ";")
			for _, market := range append(strings.Fields(part[2]), "")[:max(1, len(strings.Fields(part[2])))] {
				c.want = append(c.want, told{strings.TrimSpace(part[0]), strings.TrimSpace(part[1]), market})
			}
		}
	}
	if !about || c.on == "" || len(c.want) == 0 {
		return c, fmt.Errorf("%s does not say what it is about, or lacks on: or want:", path)
	}
	slices.SortFunc(c.want, told.compare)
	for _, f := range a.Files {
		switch {
		case strings.HasPrefix(f.Name, "fail"):
			c.fail[f.Name] = &fstest.MapFile{Data: f.Data}
		case strings.HasPrefix(f.Name, "pass"):
			c.pass[f.Name] = &fstest.MapFile{Data: f.Data}
		default:
			return c, fmt.Errorf("%s: %s is neither fail nor pass", path, f.Name)
		}
	}
	if len(c.fail) == 0 || len(c.pass) == 0 {
		return c, fmt.Errorf("%s lacks fail.yaml or pass.yaml", path)
	}
	if c.common != "none" {
		data, err := os.ReadFile(filepath.Join(casesDir, "common.yaml"))
		if err != nil {
			return c, err
		}
		c.fail["common.yaml"], c.pass["common.yaml"] = &fstest.MapFile{Data: data}, &fstest.MapFile{Data: data}
	}
	return c, nil
}

var readCases = sync.OnceValues(func() (all []ruleCase, err error) {
	paths, err := filepath.Glob(casesDir + "/*.txtar")
	for _, p := range paths {
		c, e := readCase(p)
		if e != nil {
			return nil, e
		}
		all = append(all, c)
	}
	return all, err
})

// judgeBook returns everything that is found in a book: on reading it, on
// judging its products and sets, on joining the markets of a pack and, with
// until, in the calendar.
func (c ruleCase) judgeBook(t *testing.T, fsys fstest.MapFS) finding.List {
	t.Helper()
	day := func(s string) date.Date {
		d, err := date.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	o := date.Occasion{On: day(c.on), Placed: day(cmp.Or(c.placed, c.on))}
	b, found := book.LoadFS(fsys)
	if found.Count(finding.Error) > 0 {
		return found
	}
	desk := label.NewDesk(&b.Workshop)
	desk.Ask(found)
	take := func(ds []*label.Declaration) {
		joint := map[*label.Pack][]*label.Declaration{}
		for _, d := range ds {
			found = append(found, d.Findings...)
			if p := d.Product.PackFor(d.Market); p != nil {
				joint[p] = append(joint[p], d)
			}
		}
		for p, same := range joint {
			found = append(found, label.CopyFor(p, same).Findings...)
		}
	}
	for _, p := range b.Products {
		ds := desk.Declare(p, p.SellIn, o)
		take(ds)
		if c.until != "" {
			for _, ch := range desk.Calendar(ds, day(c.until)) {
				found = append(found, ch.Finding)
			}
		}
	}
	for _, s := range b.Sets {
		take(desk.DeclareSet(s, s.SellIn, o))
	}
	found.Sort()
	return found
}

// wanted returns the findings that a case is about: all above a note, and notes
// of the codes that it names.
func (c ruleCase) wanted(found finding.List) (all []told) {
	for _, f := range found {
		named := slices.ContainsFunc(c.want, func(w told) bool { return w.Code == string(f.Rule) })
		if f.Severity > finding.Note || named {
			all = append(all, told{string(f.Rule), f.Product, f.Market})
		}
	}
	slices.SortFunc(all, told.compare)
	return slices.Compact(all)
}

func TestRuleCases(t *testing.T) {
	cases, err := readCases()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			found := c.judgeBook(t, c.fail)
			if diff := gocmp.Diff(c.want, c.wanted(found)); diff != "" {
				t.Errorf("the book that fails (-want +got):\n%s", diff)
				for _, f := range found {
					t.Logf("%s %s [%s] %s: %s", f.Severity, f.Rule, f.Market, f.Product, f.Line())
				}
			}
			for _, f := range found {
				if _, ok := label.RuleOf(f.Rule); !ok {
					t.Errorf("%s is not in the register", f.Rule)
				}
			}
			for _, f := range c.judgeBook(t, c.pass) {
				if slices.ContainsFunc(c.want, func(w told) bool { return w.Code == string(f.Rule) }) {
					t.Errorf("the book that passes: %s [%s] %s: %s", f.Rule, f.Market, f.Product, f.Line())
				}
			}
		})
	}
}

// elsewhere names the tests of rules that no book of a few lines can show, and
// what in them does.
var elsewhere = map[finding.Code]struct{ path, words string }{
	"book.encoding":           {"book/hostile_test.go", `"book.encoding"`},
	"book.size":               {"book/hostile_test.go", `"book.size"`},
	"book.depth":              {"book/hostile_test.go", `"book.depth"`},
	"book.file":               {"book/hostile_test.go", `"book.file"`},
	"formula.infeasible":      {"../formula/mix_test.go", "RuleInfeasible"},
	"formula.empty":           {"../formula/mix_test.go", "RuleEmpty"},
	"formula.unfilled-slot":   {"../formula/mix_test.go", "RuleUnfilledSlot"},
	"formula.not-grams":       {"../formula/mix_test.go", "RuleNotGrams"},
	"pack.no-room":            {"../cmd/panelwright/testdata/script/no_room.txtar", "does not fit"},
	"pack.letter":             {"../cmd/panelwright/testdata/script/looks.txtar", "pack.letter"},
	"pack.e-mark":             {"marks_test.go", "e-mark"},
	"us.net.average":          {"../cmd/panelwright/testdata/script/net.txtar", "A short mean fails by the average"},
	"pack.second-label":       {"../cmd/panelwright/testdata/script/looks.txtar", "pack.second-label"},
	"pack.elsewhere":          {"../cmd/panelwright/testdata/script/looks.txtar", "pack.elsewhere"},
	"pack.egg-timer":          {"layout/ladder_test.go", "pack.egg-timer"},
	"pack.no-frame":           {"../cmd/panelwright/testdata/script/looks.txtar", "pack.no-frame"},
	"pack.code-bent":          {"layout/codes_test.go", "pack.code-bent"},
	"pack.picture":            {"layout/logo_test.go", "pack.picture"},
	"book.picture":            {"../cmd/panelwright/testdata/script/looks.txtar", "book.picture"},
	"book.font":               {"../cmd/panelwright/testdata/script/looks.txtar", "book.font"},
	"calendar.lapses":         {"calendar_test.go", "no longer so"},
	"product.unused-slot":     {"cases_test.go", "TestBeyondABook"},
	"set.empty":               {"cases_test.go", "TestBeyondABook"},
	"net.weights":             {"cases_test.go", "TestBeyondABook"},
	"lot.list":                {"book/asmade_test.go", "RuleLotList"},
	"make.scale-worst":        {"book/making_test.go", "RuleScaleWorst"},
	"make.small-batch":        {"book/making_test.go", "RuleSmallBatch"},
	"make.not-counted":        {"../cmd/panelwright/testdata/script/make.txtar", "is not counted"},
	"lot.statement":           {"book/asmade_test.go", "RuleLotStatement"},
	"sheet.file-changed":      {"../cmd/panelwright/testdata/script/sheet.txtar", "is no longer the one that was read"},
	"lot.light":               {"book/asmade_test.go", "RuleLotLight"},
	"lot.weighed":             {"book/asmade_test.go", "1.50 % became 1.99 %"},
	"lot.no-line":             {"book/asmade_test.go", "RuleNoLine"},
	"lot.which-formula":       {"book/asmade_test.go", "RuleWhichFormula"},
	"lot.swap":                {"book/asmade_test.go", "RuleNoSwap"},
	"record.future":           {"../cmd/panelwright/testdata/script/record_clumsy.txtar", "and today is"},
	"lot.inside":              {"book/boxmade_test.go", "RuleInside"},
	"lot.which-sheet":         {"book/asmade_test.go", "RuleWhichSheet"},
	"lot.two-sheets":          {"book/asmade_test.go", "RuleTwoSheets"},
	"lot.inside-count":        {"../cmd/panelwright/testdata/script/record_doubts.txtar", "write used: {hay fizz: 0614 x 20}"},
	"lot.mix":                 {"../cmd/panelwright/testdata/script/premix.txtar", "made beforehand"},
	"lot.not-in-recipe":       {"../cmd/panelwright/testdata/script/record_doubts.txtar", "is not in the recipe of"},
	"record.before-came":      {"record/doubts_test.go", "RuleBeforeCame"},
	"record.twice":            {"record/doubts_test.go", "RuleTwice"},
	"record.left-out":         {"record/doubts_test.go", "RuleLeftOut"},
	"record.not-ready":        {"record/doubts_test.go", "RuleNotReady"},
	"record.unaccounted":      {"record/doubts_test.go", "RuleUnaccounted"},
	"record.no-labels":        {"record/doubts_test.go", "RuleNoLabels"},
	"record.same-complaint":   {"record/ledger_test.go", "RuleSameComplaint"},
	"record.repeated-lot":     {"record/ledger_test.go", "RuleRepeatedLot"},
	"record.unknown-lot":      {"record/ledger_test.go", "RuleUnknownLot"},
	"record.unknown-name":     {"../cmd/panelwright/testdata/script/record.txtar", "the book has no"},
	"record.corrects":         {"record/ledger_test.go", "RuleCorrects"},
	"record.too-many":         {"record/ledger_test.go", "RuleTooMany"},
	"record.before-made":      {"record/ledger_test.go", "RuleBeforeMade"},
	"record.by-hand":          {"record/ledger_test.go", "RuleByHand"},
	"record.damage":           {"../cmd/panelwright/testdata/script/record.txtar", "torn"},
	"pack.approved-otherwise": {"../cmd/panelwright/testdata/script/approve.txtar", "approved other words"},
	"record.copy":             {"../cmd/panelwright/testdata/script/approve.txtar", "was changed after it was approved"},
	"record.kept-book":        {"../cmd/panelwright/testdata/script/approve.txtar", "the book it was made by"},
}

// Reading a book refuses these before a desk sees them, or they are about a file
// beside the book; whoever comes another way meets them all the same.
func TestBeyondABook(t *testing.T) {
	b, found := book.Load(filepath.Join(casesDir, "common.yaml"))
	if len(found) > 0 {
		t.Fatal(found)
	}
	desk := label.NewDesk(&b.Workshop)
	o := date.Occasion{On: date.Of(2026, 11, 25), Placed: date.Of(2026, 11, 25)}
	has := func(d *label.Declaration, code finding.Code) bool {
		return slices.ContainsFunc(d.Findings, func(f finding.Finding) bool { return f.Rule == code })
	}
	p := *b.Products[0]
	for _, fill := range []bool{false, true} {
		if fill {
			p.Piece.Slots = map[string]formula.Filling{"colour": {Material: p.Piece.Lines[0].Material}}
		}
		if d := desk.Declare(&p, []inci.Market{inci.US}, o)[0]; has(d, "product.unused-slot") != fill {
			t.Errorf("a slot filled for nothing, %v: %v", fill, d.Findings)
		}
	}
	s := label.Set{Product: p}
	for _, holds := range []bool{false, true} {
		if holds {
			s.Holds = []label.Held{{Product: b.Products[1], Count: 2}}
		}
		if d := desk.DeclareSet(&s, []inci.Market{inci.US}, o)[0]; has(d, "set.empty") == holds {
			t.Errorf("a set that holds something, %v: %v", holds, d.Findings)
		}
	}
	if _, found := weigh.Read("weights.csv", []byte("162.4 g\nheavy\n"), "g"); len(found) != 1 || found[0].Rule != "net.weights" {
		t.Errorf("a weighing that is no weight: %v", found)
	}
	if _, found := weigh.Read("weights.csv", []byte("162.4 g\n"), "g"); len(found) > 0 {
		t.Errorf("a weighing: %v", found)
	}
}

// Every rule that the register calls judged, in part or in full, is met by a
// case that fails and one that passes. What reading a book says is shown by the
// cases of package book, each of which gives exactly what it lists.
func TestEveryRuleHasACase(t *testing.T) {
	cases, err := readCases()
	if err != nil {
		t.Fatal(err)
	}
	met := map[finding.Code]bool{}
	for _, c := range cases {
		for _, w := range c.want {
			met[finding.Code(w.Code)] = true
		}
	}
	said, err := filepath.Glob("book/testdata/says/*.txt")
	if err != nil || len(said) < 10 {
		t.Fatal("the cases of package book were not found", err)
	}
	saying := regexp.MustCompile(`(?m)^(?:error|warning|question|note) ([a-z.-]+) `)
	for _, path := range said {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range saying.FindAllStringSubmatch(string(data), -1) {
			met[finding.Code(m[1])] = true
		}
	}
	for code, where := range elsewhere {
		if data, err := os.ReadFile(where.path); err != nil || !strings.Contains(string(data), where.words) {
			t.Errorf("%s does not show %s: %v", where.path, code, err)
		}
		met[code] = true
	}
	for _, r := range label.Rules() {
		any := slices.ContainsFunc(r.Codes(), func(c finding.Code) bool { return met[c] })
		if r.State != label.NotJudged && !any {
			t.Errorf("%s: no case", r.Code)
		}
		if r.State == label.NotJudged && any {
			t.Errorf("%s is said not to be judged, but a case gives it", r.Code)
		}
	}
}
