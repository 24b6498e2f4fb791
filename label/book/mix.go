package book

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/formula/quantity"
)

var formulaKeys = []string{"formula", "mix", "dries", "saponify", "mould"}

func (l *loader) readFormulas() {
	for _, t := range l.things {
		if t.formula != nil {
			l.readFormula(t)
		}
	}
	l.findCircles()
	for changed := true; changed; {
		changed = false
		for _, t := range l.things {
			if t.formula != nil && !t.torn && l.usesTorn(t.formula) {
				t.torn, changed = true, true
			}
		}
	}
	check := formula.NewComposer()
	for _, t := range l.things {
		if t.formula == nil || t.torn {
			continue
		}
		if bad := check.Check(t.formula); len(bad) > 0 {
			t.torn = true
			l.out = append(l.out, bad...)
			continue
		}
		l.Formulas = append(l.Formulas, t.formula)
	}
}

func (l *loader) readFormula(t *thing) {
	p, f := t.page, t.formula
	mixed := false
	var soap *entry
	for _, e := range p.known(p.root, "a formula", "", formulaKeys) {
		switch e.key {
		case "saponify":
			soap = &e
		case "mix":
			mixed = true
			var torn bool
			f.Lines, torn = l.lines(p, e.v, f.Name, false)
			t.torn = t.torn || torn
		case "dries":
			f.Dries = p.dries(e.v)
		case "mould":
			f.Mould = p.mould(e.v)
		}
	}
	switch {
	case p.torn[p.root]:
		t.torn = true
	case !mixed:
		t.torn = true
		p.fail("book.missing-key", p.name, fmt.Sprintf("the formula “%s” has no mix", clip(f.Name)), "write mix: and what is weighed, one per line, as in - baking soda: 10 oz")
	case soap != nil:
		t.torn = !l.saponify(p, *soap, f) || t.torn
	}
}

// lines reads a mix or a piece: a list of "name: amount" or "amount name", or a
// mapping. torn says that a line was lost.
func (l *loader) lines(p *page, n *yaml.Node, in string, piece bool) (lines []formula.Line, torn bool) {
	torn = p.torn[n]
	add := func(k, v *yaml.Node, name, amount string) {
		ln, ok := l.line(p, k, v, name, amount, in, piece)
		if ok {
			lines = append(lines, ln)
		}
		torn = torn || !ok
	}
	for _, item := range list(n) {
		switch {
		case item.Kind == yaml.MappingNode:
			torn = torn || p.torn[item]
			for i := 0; i+1 < len(item.Content); i += 2 {
				k, v := item.Content[i], item.Content[i+1]
				s, ok := p.text(v, "the amount of "+k.Value)
				if !ok {
					torn = true
					continue
				}
				add(k, v, k.Value, s)
			}
		case item.Kind == yaml.ScalarNode:
			add(item, item, "", item.Value)
		default:
			p.fail("book.form", item, "a list stands where one line of the mix should", "write one dash for each line")
			torn = true
		}
	}
	return lines, torn
}

// line reads one line. name is "" where the amount comes first, as on paper.
func (l *loader) line(p *page, k, v *yaml.Node, name, amount, in string, piece bool) (ln formula.Line, ok bool) {
	var q quantity.Quantity
	var err error
	ln.Pos = p.at(k)
	if name == "" {
		ln.Text = strings.TrimSpace(amount)
		if q, name, err = quantity.Leading(amount); err == nil && name == "" {
			p.fail("book.form", k, fmt.Sprintf("“%s” does not say of what", clip(amount)), "write it as in - 10 oz baking soda")
			return ln, false
		}
		if of, much, ok := amountBehind(amount); err != nil && ok {
			p.fail("book.form", k, fmt.Sprintf("“%s” has the amount behind the name", clip(amount)), fmt.Sprintf("write it as in - %s %s, or - %s: %s", much, of, of, much))
			return ln, false
		}
		if err != nil && l.lookup(strings.TrimSpace(amount)) != nil {
			p.fail("book.form", k, fmt.Sprintf("“%s” has no amount", clip(amount)), "write it as in - 10 oz baking soda, or - baking soda: 10 oz")
			return ln, false
		}
	} else {
		ln.Text = name + ": " + amount
		if q, err = quantity.Parse(amount); err != nil {
			if _, back := quantity.Parse(name); back == nil {
				p.fail("book.form", k, fmt.Sprintf("“%s” has the amount before the colon", clip(ln.Text)), "write it as in - baking soda: 10 oz, or without the colon")
				return ln, false
			}
		}
	}
	if err != nil {
		p.quantityError("book.amount", v, err)
		if name == "" {
			return ln, false
		}
	}
	t, known := l.place(p, k, name, &ln)
	if err != nil || !known {
		return ln, false
	}
	if piece && q.Unit.Kind != quantity.Mass && q.Unit.Kind != quantity.Volume {
		p.fail("book.amount", v, fmt.Sprintf("“%s” is not a weight", clip(q.Text)), "write how many grams of it one piece holds")
		return ln, false
	}
	return ln, l.amount(p, v, q, t, strings.TrimSpace(name), &ln, in)
}

// amountBehind parts "citric acid 5 oz" into name and amount.
func amountBehind(text string) (name, amount string, ok bool) {
	words := strings.Fields(text)
	for i := 1; i < len(words); i++ {
		amount = strings.Join(words[i:], " ")
		if _, err := quantity.Parse(amount); err == nil {
			return strings.Join(words[:i], " "), amount, true
		}
	}
	return "", "", false
}

// place says what a line is of: a slot if some product fills one of that name
// and the maker has nothing else by it, else a material or formula.
func (l *loader) place(p *page, n *yaml.Node, name string, ln *formula.Line) (*thing, bool) {
	key := foldName(name)
	if slot, ok := l.fillable[key]; ok && l.own[key] == nil {
		ln.Slot = slot
		return nil, true
	}
	t := l.resolve(p, n, name)
	if t == nil {
		return nil, false
	}
	ln.Material, ln.Formula = t.material, t.formula
	if t.remark != "" {
		p.say(finding.Note, "book.taken-as", n, fmt.Sprintf("“%s” is the built-in material “%s”: %s", clip(name), t.name, t.remark), "write a material of that name if yours is another")
		t.remark = ""
	}
	return t, !t.torn || t.formula != nil
}

// dries reads how much of the free water and alcohol leaves before sale.
func (p *page) dries(n *yaml.Node) (d formula.Drying) {
	const cure = "write what leaves, as in {water: 95 %}"
	if n.Kind == yaml.ScalarNode && strings.EqualFold(strings.TrimSpace(n.Value), "all") {
		p.allDries(n)
		return d
	}
	for _, e := range p.known(n, "dries", cure, []string{"water", "alcohol"}) {
		s, ok := p.text(e.v, "the "+e.key+" that dries off")
		if !ok {
			continue
		}
		if strings.EqualFold(s, "all") {
			p.allDries(e.v)
			continue
		}
		sh, err := quantity.ParseShare(s)
		if err != nil || sh.Rest {
			if err == nil {
				err = &quantity.Error{Read: s, Wrong: "that is no share of the " + e.key, Cure: cure}
			}
			p.quantityError("book.share", e.v, err)
			continue
		}
		x := formula.Interval{Lo: sh.Lo, Hi: sh.Hi}
		if e.key == "water" {
			d.Water = x
		} else {
			d.Alcohol = x
		}
	}
	return d
}

func (p *page) allDries(n *yaml.Node) {
	p.fail("book.dries-all", n, "“all” cannot be known without weighing", "weigh a batch before and after, and write the share of the water that left, as in {water: 95 %}")
}

// usesTorn reports whether a formula needs something that could not be read.
func (l *loader) usesTorn(f *formula.Formula) bool {
	for i := range f.Lines {
		ln := &f.Lines[i]
		switch {
		case ln.Formula != nil && l.own[foldName(ln.Formula.Name)].torn:
			return true
		case ln.Material != nil:
			if t := l.own[foldName(ln.Material.Name)]; t != nil && t.material == ln.Material && t.torn {
				return true
			}
		}
	}
	return false
}

// findCircles names every circle of formulas once, at the line that closes it.
func (l *loader) findCircles() {
	state := map[*formula.Formula]int{} // 1 being walked, 2 done
	var path []*formula.Formula
	var walk func(f *formula.Formula)
	walk = func(f *formula.Formula) {
		state[f] = 1
		path = append(path, f)
		for i := range f.Lines {
			g := f.Lines[i].Formula
			switch {
			case g == nil:
			case state[g] == 0:
				walk(g)
			case state[g] == 1:
				l.circle(path, g, f.Lines[i].Pos)
			}
		}
		path = path[:len(path)-1]
		state[f] = 2
	}
	for _, t := range l.things {
		if t.formula != nil && state[t.formula] == 0 {
			walk(t.formula)
		}
	}
}

func (l *loader) circle(path []*formula.Formula, g *formula.Formula, at finding.Pos) {
	from := 0
	for path[from] != g {
		from++
	}
	var names []string
	for _, f := range path[from:] {
		names = append(names, f.Name)
		l.own[foldName(f.Name)].torn = true
	}
	names = append(names, g.Name)
	l.out.Add(finding.Finding{Rule: formula.RuleCycle, Severity: finding.Error, Where: at,
		Message: "formulas use one another in a circle: " + strings.Join(names, " -> "), Cure: "take one of them out of the other"})
}

// slotsIn returns the slots of a formula, those of formulas inside it included.
func (l *loader) slotsIn(f *formula.Formula) []string {
	if known, ok := l.needs[f]; ok {
		return known
	}
	l.needs[f] = nil // a circle ends here; it has been reported
	names := l.slotsOfLines(f.Lines)
	l.needs[f] = names
	return names
}

func (l *loader) slotsOfLines(lines []formula.Line) (names []string) {
	for i := range lines {
		switch ln := &lines[i]; {
		case ln.Slot != "":
			names = appendNew(names, ln.Slot)
		case ln.Formula != nil:
			for _, s := range l.slotsIn(ln.Formula) {
				names = appendNew(names, s)
			}
		}
	}
	return names
}

func appendNew(names []string, s string) []string {
	for _, n := range names {
		if n == s {
			return names
		}
	}
	return append(names, s)
}
