package paper

import (
	"fmt"
	"strings"

	"panelwright/formula/exact"
	"panelwright/inci"
	"panelwright/label/record"
)

func (f *file) lots() {
	f.add(Heading{1, "7 Lots"})
	lots := f.Ledger.LotsOf(f.Product.Name)
	if len(lots) == 0 {
		f.add(Para{Words: "No lot is recorded."})
		return
	}
	lotTable(f.Paper, f.Ledger, "As recorded", lots)
	for _, x := range lots {
		var words []string
		for _, u := range x.Used {
			var codes []string
			for _, p := range u.Lots {
				codes = append(codes, p.Code)
			}
			words = append(words, u.Name+": "+strings.Join(codes, ", "))
		}
		for _, s := range x.Swaps {
			words = append(words, s.In+" for "+s.Out)
		}
		for _, w := range x.Weighed {
			words = append(words, fmt.Sprintf("%s weighed %s g", w.Name, w.Grams.Decimal(2, exact.Nearest)))
		}
		if x.Entry.Remarks != "" {
			words = append(words, x.Entry.Remarks)
		}
		if len(words) > 0 {
			f.add(Pair{"Lot " + x.Code, strings.Join(words, "; ")})
		}
	}
}

func (f *file) weighings() {
	f.add(Heading{1, "8 Weighings"})
	t := Table{Heads: []string{"lot", "pieces weighed", "mean g", "lightest g", "heaviest g"}, Right: []bool{false, true, true, true, true}, Wide: []int{40, 24, 24, 24, 24}}
	add := func(name string, ws []exact.Rat) {
		if len(ws) == 0 {
			return
		}
		var sum exact.Rat
		lo, hi := ws[0], ws[0]
		for _, w := range ws {
			sum, lo, hi = sum.Add(w), exact.Min(lo, w), exact.Max(hi, w)
		}
		mean := sum.Quo(exact.Int(int64(len(ws))))
		t.Rows = append(t.Rows, []string{name, fmt.Sprint(len(ws)), mean.Decimal(2, exact.Down).StringFixed(2), lo.Decimal(2, exact.Nearest).String(), hi.Decimal(2, exact.Nearest).String()})
	}
	for _, x := range f.Ledger.LotsOf(f.Product.Name) {
		add(x.Code, x.Weights)
		for _, s := range f.Ledger.Statuses(x) {
			add(x.Code+", "+s.On.String(), s.Weights)
		}
	}
	if len(t.Rows) == 0 {
		f.add(Para{Words: "No pieces were weighed, as far as is recorded. panelwright net judges weighings by the official rules."})
		return
	}
	f.add(t, Para{Words: "panelwright net judges weighings by the official rules.", Quiet: true})
}

func (f *file) approvals() {
	f.add(Heading{1, "9 Approvals and labels printed"})
	t := Table{Heads: []string{"approved on", "by", "for", "lots", "text"}, Right: make([]bool, 5), Wide: []int{24, 28, 24, 40, 26}}
	for _, a := range f.Ledger.Approvals {
		if inci.Fold(a.Product) != inci.Fold(f.Product.Name) {
			continue
		}
		lots := "every lot"
		switch {
		case len(a.Lots) > 0:
			lots = strings.Join(a.Lots, ", ")
		case a.From != 0 || a.Until != 0:
			lots = strings.TrimSpace(orNothing("from ", a.From.String()) + orNothing(" until ", a.Until.String()))
		}
		t.Rows = append(t.Rows, []string{a.On.String(), a.Entry.By, codesOf(a.Markets), lots, a.Text})
	}
	if len(t.Rows) == 0 {
		f.add(Para{Words: "No pack copy of it was approved."})
	} else {
		f.add(t)
	}
	var all []*record.Printing
	for _, p := range f.Ledger.Printings {
		if inci.Fold(p.Product) == inci.Fold(f.Product.Name) {
			all = append(all, p)
		}
	}
	printings(f.Paper, &record.Trail{Printings: all})
}

func codesOf(ms []inci.Market) string {
	var out []string
	for _, m := range ms {
		out = append(out, string(m))
	}
	return strings.Join(out, " ")
}

func (f *file) effects() {
	f.add(Heading{1, "10 Complaints and effects reported"})
	var all []*record.Complaint
	for _, c := range f.Ledger.Complaints {
		x := f.Ledger.Lot(c.Lot)
		if inci.Fold(c.Product) == inci.Fold(f.Product.Name) || x != nil && inci.Fold(x.Product) == inci.Fold(f.Product.Name) {
			all = append(all, c)
		}
	}
	if len(all) == 0 {
		f.add(Para{Words: "None is recorded."})
		return
	}
	complaints(f.Paper, &record.Trail{Complaints: all})
}
