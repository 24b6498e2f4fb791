package label

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// CopyFor joins the declarations that one pack serves into what its label must
// carry. Where the markets contradict one another the copy holds an error
// finding with the reason, and no list. There must be at least one declaration.
func CopyFor(pack *Pack, ds []*Declaration) *PackCopy {
	c := &PackCopy{Product: ds[0].Product, Pack: pack, Name: ds[0].Product.Name, Occasion: ds[0].Occasion}
	c.Dress = pack.Dress.Over(&c.Product.Dress)
	for _, d := range ds {
		c.Markets = append(c.Markets, d.Market)
		c.Proof = c.Proof || !d.Verdict().Prints()
		for _, s := range d.Statements {
			if s.Lang != "" && !slices.Contains(c.Languages, s.Lang) {
				c.Languages = append(c.Languages, s.Lang)
			}
		}
	}
	all := c.union(ds)
	if len(ds) > 1 {
		all = c.jointList(ds, all)
		all = oneNet(all)
		all = tagPersons(all)
	}
	for _, s := range append(all, c.codes(all)...) {
		if s.Front {
			c.Front = append(c.Front, s)
		} else {
			c.Back = append(c.Back, s)
		}
	}
	c.eMark(ds)
	return c
}

// union takes every statement once, with the larger letters and the stricter
// placement of those that say the same.
func (c *PackCopy) union(ds []*Declaration) []Statement {
	var all []Statement
	for _, d := range ds {
		for _, s := range d.Statements {
			i := slices.IndexFunc(all, func(o Statement) bool {
				return o.Kind == s.Kind && o.Lang == s.Lang && o.Lead == s.Lead && o.Text == s.Text
			})
			if i < 0 {
				s.Markets = slices.Clone(s.Markets)
				all = append(all, s)
				continue
			}
			all[i].absorb(s)
		}
	}
	slices.SortStableFunc(all, func(a, b Statement) int { return int(a.Kind) - int(b.Kind) })
	return all
}

func (s *Statement) absorb(o Statement) {
	for _, m := range o.Markets {
		if !slices.Contains(s.Markets, m) {
			s.Markets = append(s.Markets, m)
		}
	}
	if s.Height.Min < o.Height.Min {
		s.Height = o.Height
	}
	s.Front, s.Bold, s.Foot, s.Apart = s.Front || o.Front, s.Bold || o.Bold, s.Foot || o.Foot, s.Apart || o.Apart
	for _, c := range o.Sources {
		if !slices.Contains(s.Sources, c) {
			s.Sources = append(s.Sources, c)
		}
	}
}

// jointList replaces the markets' lists by one that all of them accept; for a
// set, by one for each product in it.
func (c *PackCopy) jointList(ds []*Declaration, all []Statement) []Statement {
	var list *Statement
	at := 0
	out := all[:0:0]
	for i := range all {
		switch {
		case all[i].Kind != ListText:
			out = append(out, all[i])
		case list == nil:
			list, at = &all[i], len(out)
		default:
			list.absorb(all[i])
		}
	}
	if list == nil {
		return out
	}
	lists, err := jointLists(ds, c.Languages, list.Lead)
	if err != nil {
		c.Proof = true
		f := finding.Finding{Rule: "pack.conflict", Severity: finding.Error, Where: c.Pack.Pos, Product: c.Product.Name,
			Message: fmt.Sprintf("one list cannot serve %s: %v", marketsTitle(c.Markets), err),
			Cure:    "give these markets packs of their own"}
		if in, out := soapBothWays(ds); in != nil {
			f.Message = fmt.Sprintf("one list cannot serve %s: the soap is listed as what went in for %s, and as what came out for %s",
				marketsTitle(c.Markets), in.Market.Inside(), out.Market.Inside())
			f.Cure = "write list as: out in the product, which lists it one way for all of them, or give these markets packs of their own"
		}
		c.Findings.Add(f)
		return out
	}
	for i, l := range lists {
		s := *list
		s.Lead, s.Text = l.Lead, l.Text
		out = slices.Insert(out, at+i, s)
	}
	return out
}

// jointLists joins the lists of one product, or of each product of a set.
func jointLists(ds []*Declaration, langs []string, lead string) ([]List, error) {
	if ds[0].Members == nil {
		names, err := JointList(ds)
		return []List{{lead, strings.Join(names, ", ")}}, err
	}
	var out []List
	for i, m := range ds[0].Members {
		var same []*Declaration
		for _, d := range ds {
			same = append(same, d.Members[i])
		}
		names, err := JointList(same)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", m.Product.Name, err)
		}
		out = append(out, List{heading(m.Product, langs) + ": " + ds[0].Rules.Heading, strings.Join(names, ", ")})
	}
	return out, nil
}

// oneNet leaves out a net statement that another one holds: "160 g" is in
// "Net Wt 5.64 oz (160 g)".
func oneNet(all []Statement) []Statement {
	var keep *Statement
	for i := range all {
		if all[i].Kind == NetText && (keep == nil || len(all[i].Text) > len(keep.Text)) {
			keep = &all[i]
		}
	}
	if keep == nil {
		return all
	}
	for i := range all {
		if s := &all[i]; s != keep && s.Kind == NetText && strings.Contains(keep.Text, s.Text) {
			keep.absorb(*s)
			s.Text = ""
		}
	}
	return slices.DeleteFunc(all, func(s Statement) bool { return s.Kind == NetText && s.Text == "" })
}

// tagPersons says which market each of several persons belongs to, and puts
// the contact of each behind the address.
func tagPersons(all []Statement) []Statement {
	persons := func(s Statement) bool { return s.Kind == ResponsibleText }
	if n := slices.IndexFunc(all, persons); n < 0 || !slices.ContainsFunc(all[n+1:], persons) {
		return all
	}
	for i := range all {
		if !persons(all[i]) {
			continue
		}
		var tags []string
		for _, m := range all[i].Markets {
			tags = append(tags, marketTag(m))
		}
		all[i].Lead = strings.Join(tags, ", ") + ":"
		for k := range all {
			if all[k].Kind == ContactText && slices.Equal(all[k].Markets, all[i].Markets) {
				all[i].Text += ", " + all[k].Text
				all[i].Sources = append(all[i].Sources, all[k].Sources...)
				all[k].Text = ""
			}
		}
	}
	return slices.DeleteFunc(all, func(s Statement) bool { return s.Kind == ContactText && s.Text == "" })
}

// marketTag is the short name of a market beside an address on a pack.
func marketTag(m inci.Market) string {
	if m == inci.GB {
		return "UK"
	}
	return strings.ToUpper(string(m))
}
