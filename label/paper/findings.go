package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// Findings writes the findings sheet, for an assessor to work through with a
// pen: for the book and for each product every rule that found something, with
// what was read, by how much it is off, what would cure it and where the rule
// stands, beside room for remarks; at the end what was gone through, what was judged
// in part, and what not at all.
//
// Read is what reading the book found. Each of all holds the declarations of one
// product or set, one for each market; there must be at least one declaration.
func Findings(title string, read finding.List, all [][]*label.Declaration, fingerprint string) *Paper {
	doc := &Paper{Title: "Findings sheet: " + title, Lang: "en", Footer: fmt.Sprintf("%s, findings, book %s", title, short(fingerprint))}
	markets := marketsOf(all)
	first := all[0][0]
	doc.add(Pair{"Judged on", judged(first)}, Pair{"Rules last gone through", reviewed(markets)}, Pair{"Book", fingerprint})
	doc.add(Para{Words: "Wrong: a label with it is not printed. Question: only the maker can answer. Worth a look: probably a mistake. Note: worth knowing. " +
		"“Unverified” marks a rule or figure that rests on memory or on a text that quotes the source.", Quiet: true})
	summary(doc, all)
	number := 0
	if own := about(read, ""); len(own) > 0 || bookWide(all) != nil {
		doc.add(Heading{1, "The book"})
		number = reviews(doc, append(own, bookWide(all)...), number)
	}
	common := commonTo(all)
	numbers := map[string]int{}
	if len(common) > 0 {
		doc.add(Heading{1, "Several products"})
		number = common.reviews(doc, number, numbers)
	}
	for _, ds := range all {
		p := ds[0].Product
		doc.add(Keep(productHeight), Heading{1, p.Name})
		what := kindOf(p)
		if n := len(ds[0].Members); n > 0 {
			what = fmt.Sprintf("a set of %d products, judged one by one", n)
		}
		doc.add(Para{Words: what + "; " + marketNames(ds), Quiet: true})
		var found finding.List
		for _, d := range ds {
			found = append(found, about(d.Findings, p.Name)...)
		}
		areas(doc, ds, found)
		own, see := common.without(found, numbers)
		if len(see) > 0 {
			doc.add(Pair{"See too", "no. " + strings.Join(see, ", ") + ", said of several products"})
		}
		number = reviews(doc, own, number)
	}
	goneThrough(doc, markets)
	leftOpen(doc, markets)
	doc.add(Para{Words: Humility, Quiet: true})
	doc.add(Signature{"Assessor", "Date"})
	return doc
}

// shared are the notes and warnings that are the same of several products: they are said once.
type shared []sharedFinding

type sharedFinding struct {
	key      string
	products []string
	found    finding.List // that of the first product, in every market
}

func sharedKey(f finding.Finding) string {
	return string(f.Rule) + "\x00" + f.Severity.String() + "\x00" + f.Message + "\x00" + f.Cure
}

// commonTo returns what is said of more than one product.
func commonTo(all [][]*label.Declaration) (out shared) {
	at := map[string]int{}
	for _, ds := range all {
		name := ds[0].Product.Name
		for _, d := range ds {
			for _, f := range about(d.Findings, name) {
				if f.Severity > finding.Warning {
					continue
				}
				k := sharedKey(f)
				i, ok := at[k]
				if !ok {
					i = len(out)
					at[k] = i
					out = append(out, sharedFinding{key: k})
				}
				x := &out[i]
				if !slices.Contains(x.products, name) {
					x.products = append(x.products, name)
				}
				if x.products[0] == name {
					x.found = append(x.found, f)
				}
			}
		}
	}
	return slices.DeleteFunc(out, func(x sharedFinding) bool { return len(x.products) < 2 })
}

// reviews writes them with the names of the products in front, warnings first, and notes the number of each.
func (c shared) reviews(doc *Paper, number int, numbers map[string]int) int {
	for s := finding.Warning; s >= finding.Note; s-- {
		for _, x := range c {
			if x.found[0].Severity != s {
				continue
			}
			numbers[x.key] = number + 1
			said := slices.Clone(x.found)
			for i := range said {
				said[i].Message = strings.Join(x.products, ", ") + ": " + said[i].Message
				said[i].Where = x.found[0].Where
			}
			number = reviews(doc, said, number)
		}
	}
	return number
}

// without leaves out what is said of several products, and returns the numbers that it is said under.
func (c shared) without(found finding.List, numbers map[string]int) (own finding.List, see []string) {
	for _, f := range found {
		n, ok := numbers[sharedKey(f)]
		if !ok || f.Severity > finding.Warning {
			own = append(own, f)
			continue
		}
		if word := fmt.Sprint(n); !slices.Contains(see, word) {
			see = append(see, word)
		}
	}
	return own, see
}

// reviewed says when the rules of the markets were last gone through, market by
// market where the days differ.
func reviewed(markets []inci.Market) string {
	var days []string
	same := true
	for _, m := range markets {
		days = append(days, fmt.Sprintf("%s %s", m.Title(), label.LastReviewed([]inci.Market{m})))
		same = same && label.LastReviewed([]inci.Market{m}) == label.LastReviewed(markets)
	}
	if same {
		return label.LastReviewed(markets).String()
	}
	return strings.Join(days, ", ")
}

func marketsOf(all [][]*label.Declaration) (markets []inci.Market) {
	for _, m := range inci.Markets {
		if slices.ContainsFunc(all, func(ds []*label.Declaration) bool {
			return slices.ContainsFunc(ds, func(d *label.Declaration) bool { return d.Market == m })
		}) {
			markets = append(markets, m)
		}
	}
	return markets
}

func marketNames(ds []*label.Declaration) string {
	var names []string
	for _, d := range ds {
		names = append(names, d.Market.Title()+": "+d.Verdict().String())
	}
	return strings.Join(names, "; ")
}

// about returns the findings about one product; "" for those about none.
func about(list finding.List, product string) (own finding.List) {
	for _, f := range list {
		if f.Product == product {
			own = append(own, f)
		}
	}
	return own
}

// bookWide returns what the judgements say of no product, once.
func bookWide(all [][]*label.Declaration) (list finding.List) {
	for _, ds := range all {
		for _, d := range ds {
			list = append(list, about(d.Findings, "")...)
		}
	}
	list.Sort()
	return list
}

// summary counts the findings of each product by severity.
func summary(doc *Paper, all [][]*label.Declaration) {
	t := Table{Heads: []string{"product", "markets", "verdict", "wrong", "questions", "worth a look", "notes"},
		Right: []bool{false, false, false, true, true, true, true}, Wide: []int{44, 24, 46, 14, 18, 20, 12}}
	for _, ds := range all {
		var found finding.List
		var codes []string
		for _, d := range ds {
			found = append(found, about(d.Findings, d.Product.Name)...)
			codes = append(codes, string(d.Market))
		}
		row := []string{ds[0].Product.Name, strings.Join(codes, " "), found.Verdict().String()}
		for s := finding.Error; s >= finding.Note; s-- {
			row = append(row, fmt.Sprint(len(together(found, s))))
		}
		t.Rows = append(t.Rows, row)
	}
	doc.add(t)
}

var results = map[finding.Severity]string{finding.Error: "Wrong", finding.Question: "Question", finding.Warning: "Worth a look", finding.Note: "Note"}

// reviews writes the findings, worst first, numbered from number+1 on, and
// returns the last number given.
func reviews(doc *Paper, found finding.List, number int) int {
	for s := finding.Error; s >= finding.Note; s-- {
		for _, f := range together(found, s) {
			number++
			rule, _ := label.RuleOf(f.Rule)
			r := Review{Number: number, Result: results[s], Rule: cmp.Or(rule.Title, string(f.Rule)), Code: string(f.Rule), Markets: f.Market, Evidence: sentence(f.Message)}
			if f.Cure != "" {
				r.Cure = sentence(f.Cure)
			}
			r.Where = f.Where.String()
			r.Sources = f.sources
			doc.add(r)
		}
	}
	return number
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	if c := s[0]; c >= 'a' && c <= 'z' && !strings.Contains(strings.Fields(s)[0], ":") {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "”") && strings.HasSuffix(strings.TrimSuffix(s, "”"), ".") {
		return s
	}
	return s + "."
}

// joined is a finding, said once for the markets in which it is the same.
type joined struct {
	finding.Finding
	sources []finding.Citation
}

// together keeps the findings of one severity and joins those that say the same
// of the same place in several markets.
func together(list finding.List, s finding.Severity) []joined {
	type same struct {
		message, cure string
		where         finding.Pos
	}
	var out []joined
	at := map[same]int{}
	for _, f := range list {
		if f.Severity != s {
			continue
		}
		k := same{f.Message, f.Cure, f.Where}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, joined{Finding: f})
		} else if !slices.Contains(strings.Fields(out[i].Market), f.Market) {
			out[i].Market = strings.TrimSpace(out[i].Market + " " + f.Market)
		}
		if f.Source.Text != "" && !slices.Contains(out[i].sources, f.Source) {
			out[i].sources = append(out[i].sources, f.Source)
		}
	}
	return out
}

// productHeight is what the head of a product takes with its areas, in millimetres.
const productHeight = 60

// areas says for each group of rules how many were gone through for a product, and
// what came of it; those of which nothing came stand in one line. Groups about the book itself, and about making, are listed
// only where they have something to say.
func areas(doc *Paper, ds []*label.Declaration, found finding.List) {
	var clean []string
	t := Table{Heads: []string{"area", "rules", "came of it", "remarks"}, Right: []bool{false, true, false, false}, Wide: []int{64, 10, 44, 52}}
	for _, g := range label.RuleGroups() {
		n := 0
		for _, r := range label.Rules() {
			if r.Group == g.ID && r.State != label.NotJudged && slices.ContainsFunc(ds, func(d *label.Declaration) bool { return slices.Contains(r.Markets, d.Market) }) {
				n++
			}
		}
		var own finding.List
		for _, f := range found {
			if r, ok := label.RuleOf(f.Rule); ok && r.Group == g.ID {
				own = append(own, f)
			}
		}
		switch {
		case len(own) > 0:
			t.Rows = append(t.Rows, []string{g.Title, fmt.Sprint(n), outcome(own), ""})
		case n > 0 && ofProducts(g.ID):
			clean = append(clean, fmt.Sprintf("%s (%d)", g.Title, n))
		}
	}
	if len(t.Rows) > 0 {
		doc.add(t)
	}
	if len(clean) > 0 {
		doc.add(Pair{"Gone through, nothing found (rules)", strings.Join(clean, ", ")})
	}
}

// ofProducts reports whether a group of rules is about products as they are now.
func ofProducts(group string) bool {
	return !slices.Contains([]string{"reading", "recipe", "making", "dates", "records", "safety", "paperwork"}, group)
}

// outcome counts findings by severity, in words.
func outcome(own finding.List) string {
	var words []string
	for s := finding.Error; s >= finding.Note; s-- {
		if n := len(together(own, s)); n > 0 {
			words = append(words, fmt.Sprintf("%s: %d", strings.ToLower(results[s]), n))
		}
	}
	return cmp.Or(strings.Join(words, ", "), "nothing found")
}

// goneThrough lists the rules that are judged in full.
func goneThrough(doc *Paper, markets []inci.Market) {
	doc.add(Heading{1, "What was gone through"})
	t := Table{Heads: []string{"rule", "markets", "source"}, Right: make([]bool, 3), Wide: []int{80, 22, 68}}
	for _, g := range label.RuleGroups() {
		if !ofProducts(g.ID) {
			continue
		}
		head := true
		for _, r := range label.Rules() {
			in := inMarkets(r, markets)
			if r.Group != g.ID || r.State != label.Judged || in == "" {
				continue
			}
			if head {
				t.Rows, t.Bold, head = append(t.Rows, []string{g.Title}), append(t.Bold, len(t.Rows)), false
			}
			t.Rows = append(t.Rows, []string{r.Title, in, r.Source.String()})
		}
	}
	doc.add(t)
	doc.add(Para{Words: "Besides these, whether the book can be read, whether its amounts work out, and what the dates of the rules will change: see check --rules and calendar.", Quiet: true})
}

// inMarkets returns which of the markets the rule is about, as codes.
func inMarkets(r label.Rule, markets []inci.Market) string {
	var in []string
	for _, m := range r.Markets {
		if slices.Contains(markets, m) {
			in = append(in, string(m))
		}
	}
	return strings.Join(in, " ")
}

// leftOpen lists what the register leaves to the reader.
func leftOpen(doc *Paper, markets []inci.Market) {
	partly, not := label.LeftOpen(markets)
	for _, part := range []struct {
		title string
		rules []label.Rule
	}{{"Judged in part", partly}, {"Not judged", not}} {
		doc.add(Heading{1, part.title})
		t := Table{Heads: []string{"rule", "markets", "what is left, and why", "source", "remarks"}, Right: make([]bool, 5), Wide: []int{46, 22, 46, 36, 28}}
		for _, r := range part.rules {
			t.Rows = append(t.Rows, []string{r.Title, inMarkets(r, markets), r.Because, r.Source.String(), ""})
		}
		doc.add(t)
	}
}
