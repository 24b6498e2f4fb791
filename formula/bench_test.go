package formula_test

import (
	"fmt"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
)

// workshop is a range as a workshop has it: a fizz mix, a melt core that is made
// on a butter base, 30 materials, some of them blends with ranges, and two slots.
func workshop(slots bool) (*formula.Piece, []formula.Group) {
	var ms []*formula.Material
	for i := range 30 {
		name := fmt.Sprintf("M%02d", i)
		m := plain(name)
		switch i % 3 {
		case 1:
			m = blend(name, name+"A 50-62", name+"B 30-40", name+"C 0-10", "SHARED 0-5")
		case 2:
			m = fat(name)
		}
		m = stating(m, fmt.Sprintf("G%02d 0.5-1.2", i), fmt.Sprintf("G%02d 0-0.1", (i+1)%30))
		ms = append(ms, m)
	}
	oz := func(n int) string { return exact.Int(int64(n)).Mul(num("28.349523125")).String() + " g" }
	base := mix("butter base")
	for i := range 8 {
		base.Lines = append(base.Lines, line(ms[i], oz(i+1)))
	}
	core := mix("melt core", line(base, "300 g"), line(ms[8], "1.5 % of fats"), line(ms[0], oz(3)))
	for i := 9; i < 18; i++ {
		core.Lines = append(core.Lines, line(ms[i], oz(i)))
	}
	fizz := mix("fizz mix", line(ms[0], "rest"))
	for i := 18; i < 28; i++ {
		fizz.Lines = append(fizz.Lines, line(ms[i], fmt.Sprintf("%d.5 %%", i-15)))
	}
	p := piece(line(fizz, "150 g"), line(core, "12 g"))
	if slots {
		core.Lines = append(core.Lines, line("scent", "1.5 % on top"))
		fizz.Lines = append(fizz.Lines, line("scent", "1.5 %"), line("colour", "0.2 %"))
		p.Slots = map[string]formula.Filling{"scent": {Material: ms[28]}, "colour": {Material: ms[29]}}
	} else {
		core.Lines = append(core.Lines, line(ms[28], "1.5 % on top"))
		fizz.Lines = append(fizz.Lines, line(ms[28], "1.5 %"), line(ms[29], "0.2 %"))
	}
	var groups []formula.Group
	for i := range 30 {
		groups = append(groups, formula.Group{Total: formula.Key(fmt.Sprintf("G%02d", i)),
			Members: []formula.Key{formula.Key(fmt.Sprintf("G%02d", (i+7)%30))}})
	}
	return p, groups
}

func BenchmarkCompose(b *testing.B) {
	for _, slots := range []bool{false, true} {
		b.Run(fmt.Sprintf("slots=%v", slots), func(b *testing.B) {
			p, _ := workshop(slots)
			c := formula.NewComposer()
			b.ReportAllocs()
			for b.Loop() {
				if comp, bad := c.Compose(p); comp == nil {
					b.Fatal(bad)
				}
			}
		})
	}
}

func BenchmarkOrder(b *testing.B) {
	for _, basis := range []formula.Basis{formula.AsAdded, formula.Finished} {
		b.Run([]string{"added", "finished"}[basis], func(b *testing.B) {
			p, _ := workshop(true)
			comp := compose(b, p)
			_, n := byKey(comp)
			b.ReportAllocs()
			for b.Loop() {
				order := formula.Rank(comp.Shares(n, basis), func(a, z int) int { return a - z })
				for i := range order[1:] {
					comp.Gap(n, basis, order[i], order[i+1])
				}
			}
		})
	}
}

func BenchmarkDrying(b *testing.B) {
	p, _ := workshop(true)
	water := blend("lye water", "AQUA 100 water")
	for i := range p.Lines {
		f := p.Lines[i].Formula
		f.Lines = append(f.Lines, line(water, "5 % on top"))
		f.Dries.Water = pct("90-98")
	}
	comp := compose(b, p)
	_, n := byKey(comp)
	b.ReportAllocs()
	for b.Loop() {
		comp.Shares(n, formula.Finished)
	}
}

func BenchmarkInside(b *testing.B) {
	p, groups := workshop(true)
	comp := compose(b, p)
	b.ReportAllocs()
	for b.Loop() {
		for _, g := range groups {
			if comp.Inside(g) == nil {
				b.Fatal("a group is missing")
			}
		}
	}
}
