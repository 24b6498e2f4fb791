package inci

import (
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/finding"
)

// Printed is a name as it stands on a pack.
type Printed struct {
	Text string
	// OK is false where the substance may not stand on a pack of that market
	// under any name known here; Why says so in plain words. Where OK is true, Why
	// may hold a remark on how the name was come by.
	OK  bool
	Why string
	// Others are further names the market has for the same key; which is right
	// depends on the material (a dye or its lake, fresh or dried milk).
	Others []string
	Source finding.Citation
}

// Name returns how substance k is printed in market m. Parts that get the same
// text, such as the iron oxides in the United States, are one ingredient there.
func Name(k formula.Key, m Market) Printed {
	k = Canonical(k)
	switch m {
	case US:
		return nameUS(k)
	case CA:
		return nameCA(k)
	}
	return namePlain(k)
}

// namePlain is the glossary name in readable letters, as Article 33 of
// Regulation (EC) No 1223/2009 wants it: trivial names in Latin, colours by
// their colour index number.
func namePlain(k formula.Key) Printed {
	p := Printed{Text: Readable(string(k)), OK: true}
	if c, ok := Colourant(k); ok && c.Listed {
		p.Source = c.SourceEU
		return p
	}
	if s, ok := Find(string(k)); ok {
		p.Source = s.Source()
		return p
	}
	for _, a := range AllergenOf(k) {
		p.Source = a.Source
		return p
	}
	if r, ok := canadaNames()[k]; ok {
		p.Source = r.cite()
		return p
	}
	p.Why = "not in the ingredient inventory: printed as written"
	p.Source = finding.Citation{Text: "the maker's own words", Seen: finding.Memory}
	return p
}

func rowsByKey(text string) map[formula.Key]row {
	t := readTable(text)
	m := make(map[formula.Key]row, len(t.rows))
	for _, r := range t.rows {
		m[formula.Key(r.get("key"))] = r
	}
	return m
}

var (
	usNames     = sync.OnceValue(func() map[formula.Key]row { return rowsByKey(usNamesText) })
	canadaNames = sync.OnceValue(func() map[formula.Key]row { return rowsByKey(canadaNamesText) })
)

// nameUS follows 21 CFR 701.3(c) as far as the rows go: an established or
// dictionary name, plants with their English name, colours by their listed name
// and never by number alone.
func nameUS(k formula.Key) Printed {
	if p, ok := colourNameUS(k); ok {
		return p
	}
	if r, ok := usNames()[k]; ok {
		if r.get("us_name") == "" {
			return Printed{Why: notListed, Source: r.cite()}
		}
		return Printed{Text: r.get("us_name"), OK: true, Others: r.list("others"), Source: r.cite()}
	}
	return patternUS(k)
}

// patternUS names what no row names: the dictionary name in title case, CERA as
// Wax, and the English plant name where another part of the plant has one.
func patternUS(k formula.Key) Printed {
	p := Printed{OK: true, Source: finding.Citation{Text: "pattern of dictionary names under 21 CFR 701.3(c)", Seen: finding.Memory}}
	words := strings.Fields(string(k))
	if n := len(words); n > 1 && words[n-1] == "CERA" {
		words[n-1] = "WAX"
	}
	if _, known := Find(string(k)); !known && len(AllergenOf(k)) == 0 {
		p.Why = "not in the ingredient inventory: printed as written"
		p.Source = finding.Citation{Text: "the maker's own words", Seen: finding.Memory}
		p.Text = Readable(string(k))
		return p
	}
	for n := min(4, len(words)-1); n >= 2; n-- {
		english, ok := plants()[strings.Join(words[:n], " ")]
		if !ok {
			continue
		}
		p.Text = Readable(strings.Join(words[:n], " ")) + " (" + english + ") " + Readable(strings.Join(words[n:], " "))
		p.Why = "English plant name taken from another part of the same plant"
		return p
	}
	p.Text = Readable(strings.Join(words, " "))
	return p
}

// plants gives the English name that the listed names put behind the Latin one,
// where they all agree.
var plants = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	unclear := map[string]bool{}
	for _, r := range readTable(usNamesText).rows {
		if !strings.HasPrefix(r.get("rule"), "botanical") && r.get("rule") != "wax" {
			continue
		}
		latin, rest, ok := strings.Cut(r.get("us_name"), " (")
		english, _, closed := strings.Cut(rest, ")")
		latin = strings.ToUpper(latin)
		if !ok || !closed || strings.Count(latin, " ") < 1 || !strings.HasPrefix(r.get("key"), latin+" ") {
			continue
		}
		if other, seen := m[latin]; seen && other != english {
			unclear[latin] = true
		}
		m[latin] = english
	}
	for latin := range unclear {
		delete(m, latin)
	}
	return m
})

// nameCA gives the three names of the schedule for what is scheduled, section
// 21.2(4)(c) of the Cosmetic Regulations; else the dictionary name, which for
// Latin trivial names outside the schedule is the English one.
func nameCA(k formula.Key) Printed {
	if r, ok := canadaNames()[k]; ok {
		p := Printed{Text: r.get("eu") + "/" + r.get("english") + "/" + r.get("french"), OK: true, Source: r.cite()}
		for _, other := range r.list("others") {
			p.Others = append(p.Others, r.get("eu")+"/"+other)
		}
		return p
	}
	if r, ok := usNames()[k]; ok {
		switch r.get("rule") {
		case "trivial", "wax":
			return Printed{Text: r.get("us_name"), OK: true, Source: r.cite()}
		}
	}
	return namePlain(k)
}
