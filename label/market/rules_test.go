package market

import (
	"errors"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// Exactly 1 % differs: the EU frees what is below it (Art. 19(1)(g)), the US
// (701.3(f)) and Canada (s. 21.4(2)) what is at or below it.
func TestOnePerCent(t *testing.T) {
	bit := exact.Frac(1, 1_000_000)
	one := exact.Frac(1, 100)
	for _, c := range []struct {
		m             inci.Market
		basis         Basis
		exactly       bool
		scentLast     bool
		conventionHas string
	}{
		{inci.US, Finished, true, false, "finished mass is our reading"},
		{inci.EU, WhenAdded, false, false, "at the time of adding"},
		{inci.GB, WhenAdded, false, false, "at the time of adding"},
		{inci.NI, WhenAdded, false, false, "at the time of adding"},
		{inci.CA, AsSold, true, true, "as sold"}, // s. 21.4(3)
	} {
		r := For(c.m)
		if r.Basis != c.basis || r.ScentLast != c.scentLast || !r.ColoursLast {
			t.Errorf("%s: %+v", c.m, r.Order)
		}
		if !r.Free(one.Sub(bit)) || r.Free(one.Add(bit)) || r.Free(one) != c.exactly {
			t.Errorf("%s: free below, at, above 1 %%: %v %v %v", c.m, r.Free(one.Sub(bit)), r.Free(one), r.Free(one.Add(bit)))
		}
		if !strings.Contains(r.Convention(), c.conventionHas) {
			t.Errorf("%s: %q", c.m, r.Convention())
		}
		if r.Reviewed != date.Of(2026, 11, 25) || !strings.HasPrefix(r.Heading, "Ingredients") || r.Name == "" {
			t.Errorf("%s: %+v", c.m, r)
		}
	}
	if For("fr") != nil || For("") != nil {
		t.Error("there are five markets")
	}
}

// The official languages of all 27 states, as far as labels go: from memory,
// but for Germany (KosmetikV section 4).
func TestLanguages(t *testing.T) {
	want := map[string]string{
		"AT": "de", "BE": "nl fr de", "BG": "bg", "CY": "el", "CZ": "cs", "DE": "de", "DK": "da", "EE": "et", "ES": "es", "FI": "fi sv",
		"FR": "fr", "GR": "el", "HR": "hr", "HU": "hu", "IE": "en", "IT": "it", "LT": "lt", "LU": "fr", "LV": "lv", "MT": "en", "NL": "nl",
		"PL": "pl", "PT": "pt", "RO": "ro", "SE": "sv", "SI": "sl", "SK": "sk",
	}
	if diff := cmp.Diff(slices.Sorted(maps.Keys(want)), MemberStates()); diff != "" || len(want) != 27 {
		t.Errorf("member states (-want +got):\n%s", diff)
	}
	eu := For(inci.EU)
	for code, langs := range want {
		got, source, err := eu.Languages([]string{code})
		if err != nil || strings.Join(got, " ") != langs {
			t.Errorf("%s: %v, %v; want %s", code, got, err, langs)
		}
		if (code == "DE") != (source.Seen == finding.Yes) {
			t.Errorf("%s: %v", code, source)
		}
	}
	for _, c := range []struct {
		m    inci.Market
		to   []string
		want string
	}{
		{inci.EU, []string{"DE", "IE"}, "de en"},
		{inci.EU, []string{"LU", "DE", "IE"}, "de en"}, // German serves in Luxembourg
		{inci.EU, []string{"ie", "el", " at "}, "en el de"}, {inci.EU, []string{"IE", "DE"}, "en de"},
		{inci.US, nil, "en"}, {inci.GB, []string{"FR"}, "en"}, {inci.NI, nil, "en"}, {inci.CA, nil, "en fr"},
	} {
		got, _, err := For(c.m).Languages(c.to)
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%s %v: %v, %v; want %s", c.m, c.to, got, err, c.want)
		}
	}
	for _, bad := range [][]string{{"GB"}, {"DE", "XX"}, {"Deutschland"}, nil} {
		var ce *CountryError
		if _, _, err := eu.Languages(bad); !errors.As(err, &ce) || len(ce.Known) != 27 {
			t.Errorf("%v: %v", bad, err)
		}
	}
	_, _, err := eu.Languages([]string{"XX"})
	if err == nil || !strings.Contains(err.Error(), `"XX" is no member state of the EU; known are AT, BE,`) {
		t.Errorf("%v", err)
	}
	if _, _, err := eu.Languages(nil); err == nil || !strings.Contains(err.Error(), "no country of the EU is stated") {
		t.Errorf("%v", err)
	}
	if all, source := For(inci.US).AllIfForeign(); !all || source.Text != "21 CFR 701.2(b)(2)-(3)" {
		t.Errorf("US: %v %v", all, source)
	}
	if all, _ := For(inci.EU).AllIfForeign(); all {
		t.Error("EU has no such rule")
	}
}

func kinds(rs []Requirement) string {
	var s []string
	for _, r := range rs {
		s = append(s, r.Kind+":"+string(r.Level))
	}
	return strings.Join(s, " ")
}

func TestRequired(t *testing.T) {
	now := date.Occasion{On: date.Of(2026, 11, 25), Placed: date.Of(2026, 11, 25)}
	// Art. 19(1)(a) to (g): (a) to (f) on container and packaging, (g) may be on the packaging alone.
	article19 := "responsible:both origin:both net:both durability:both precautions:both lot:both function:both list:outer"
	for _, c := range []struct {
		m    inci.Market
		want string
	}{
		{inci.EU, article19}, {inci.NI, article19}, {inci.GB, article19},
		// 21 CFR 701.11, .13, .12, .3, 609(a), 740, 19 USC 1304
		{inci.US, "identity:both net:both responsible:both list:either contact:both precautions:both origin:both"},
		// Cosmetic Regulations s. 20, 21.2, 24; CPLR s. 12, 13, 31
		{inci.CA, "contact:container identity:both net:outer dealer:outer origin:outer list:outer precautions:both"},
	} {
		got := For(c.m).Required(now)
		if kinds(got) != c.want {
			t.Errorf("%s: %s\nwant %s", c.m, kinds(got), c.want)
		}
		for _, q := range got {
			front := (c.m == inci.US || c.m == inci.CA) && (q.Kind == "identity" || q.Kind == "net")
			if q.Front != front || q.Imports != (q.Kind == "origin") || q.Says == "" || q.Escape == "" || q.Source.Text == "" {
				t.Errorf("%s %s: %+v", c.m, q.Kind, q)
			}
			if slices.Contains([]string{"net", "responsible", "lot"}, q.Kind) && strings.Contains(q.Escape, "notice") {
				t.Errorf("%s %s: S20 knows no notice for it", c.m, q.Kind)
			}
		}
	}
	// Case E8: the contact of section 609(a), from 2024-12-29, on stock too.
	before := date.Occasion{On: date.Of(2024, 12, 28), Placed: date.Of(2024, 6, 1)}
	after := date.Occasion{On: date.Of(2024, 12, 29), Placed: date.Of(2024, 6, 1)}
	us := For(inci.US)
	if strings.Contains(kinds(us.Required(before)), "contact") || !strings.Contains(kinds(us.Required(after)), "contact") {
		t.Errorf("609(a): %s, then %s", kinds(us.Required(before)), kinds(us.Required(after)))
	}
}

func TestCheckResponsible(t *testing.T) {
	day := func(y, m, d int) date.Occasion { return date.Occasion{On: date.Of(y, m, d), Placed: date.Of(y, m, d)} }
	now := day(2026, 11, 25)
	for _, c := range []struct {
		name             string
		m                inci.Market
		country, contact string
		o                date.Occasion
		want             string
	}{
		{"Art. 4: in the Union", inci.EU, "DE", "", now, ""},
		{"Art. 4: outside", inci.EU, "GB", "", now, "eu.responsible.outside error"},
		{"Northern Ireland is outside the Union", inci.EU, "XI", "", now, "eu.responsible.outside error"},
		{"EEA", inci.EU, "NO", "", now, "eu.responsible.unverified note"},
		{"not stated", inci.EU, "", "", now, "eu.responsible.country question"},
		{"no code", inci.EU, "Germany", "", now, "eu.responsible.country error"},
		{"NI in NI", inci.NI, "GB-NIR", "", now, ""},
		{"NI in the EU, from memory", inci.NI, "IE", "", now, "ni.responsible.unverified note"},
		{"NI in GB", inci.NI, "GB", "", now, "ni.responsible.outside error"},
		{"GB in the UK", inci.GB, "uk", "", now, ""},
		{"GB in NI", inci.GB, "NI", "", now, ""},
		{"GB, EU person, OPSS guidance: last day", inci.GB, "FR", "", day(2027, 12, 31), "gb.responsible.until note"},
		{"GB, EU person, the day after", inci.GB, "FR", "", day(2028, 1, 1), "gb.responsible.outside error"},
		{"GB, EU person, stock of 2027", inci.GB, "FR", "", date.Occasion{On: date.Of(2028, 6, 1), Placed: date.Of(2027, 6, 1)}, "gb.responsible.until note"},
		{"GB, US person", inci.GB, "US", "", now, "gb.responsible.outside error"},
		{"609(a): domestic address", inci.US, "US", "", now, ""},
		{"609(a): email", inci.US, "DE", "hello@fernhollow.example", now, ""},
		{"609(a): web site", inci.US, "", "fernhollow.example/contact", now, ""},
		{"609(a): domestic telephone", inci.US, "CA", "(802) 555-0143", now, ""},
		{"609(a): domestic telephone with 1", inci.US, "CA", "+1 802 555 0143", now, ""},
		{"609(a): foreign telephone", inci.US, "DE", "+49 30 1234567", now, "us.contact.foreign error"},
		{"609(a): nothing, abroad", inci.US, "DE", "", now, "us.contact.missing error"},
		{"609(a): nothing at all", inci.US, "", "", now, "us.contact.unclear question"},
		{"609(a): a name", inci.US, "DE", "ask for Fern", now, "us.contact.unclear question"},
		{"609(a): before 2024-12-29", inci.US, "DE", "", day(2024, 12, 28), ""},
		{"CA, s. 20(a) and CPLR s. 13", inci.CA, "CA", "hello@fernhollow.example", now, ""},
		{"CA without contact", inci.CA, "CA", "", now, "ca.contact.missing question"},
		{"CA, dealer abroad, CPLR s. 31", inci.CA, "US", "hello@fernhollow.example", now, "ca.dealer.outside warning"},
		{"CA, country not stated", inci.CA, "", "hello@fernhollow.example", now, "ca.dealer.country question"},
	} {
		got := For(c.m).CheckResponsible(c.country, c.contact, c.o)
		if rules(got) != c.want {
			t.Errorf("%s: %q, want %q", c.name, rules(got), c.want)
		}
		for _, f := range got {
			if f.Message == "" || f.Cure == "" || f.Market != string(c.m) {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
}

func TestPhrase(t *testing.T) {
	if p, ok := PhraseFor("best-before", "en"); !ok || p.Text != "best used before the end of" || p.Source.Seen != finding.Yes { // Art. 19(1)(c)
		t.Errorf("%+v %v", p, ok)
	}
	if p, ok := PhraseFor("best-before", "de"); !ok || !p.Source.Unverified() {
		t.Errorf("%+v %v", p, ok)
	}
	if p, ok := PhraseFor("best-before", "hu"); ok {
		t.Errorf("a language that is not there: %+v", p)
	}
	if p, ok := PhraseFor("lot", "hu"); !ok || p.Text != "Lot" {
		t.Errorf("a wording of no language: %+v %v", p, ok)
	}
	if _, ok := PhraseFor("nonsense", "en"); ok {
		t.Error("no such wording")
	}
	// 21 CFR 740.17(b), word for word (51 FR 20475).
	foam := "Caution—Use only as directed. Excessive use or prolonged exposure may cause irritation to skin and urinary tract. Discontinue use if rash, redness, or itching occurs. Consult your physician if irritation persists. Keep out of reach of children."
	if p, _ := PhraseFor("us.foam-bath", "en"); p.Text != foam {
		t.Errorf("740.17(b): %q", p.Text)
	}
	for _, id := range PhraseIDs() {
		if !strings.HasPrefix(id, "caution.") {
			continue
		}
		for _, lang := range []string{"en", "de", "fr", "nl", "es", "it"} {
			if p, ok := PhraseFor(id, lang); !ok || p.Text == "" || p.Source.Seen != finding.Practice {
				t.Errorf("%s in %s: %+v", id, lang, p)
			}
		}
	}
}

func TestTimeline(t *testing.T) {
	has := func(m inci.Market, d date.Date, words string) bool {
		return slices.ContainsFunc(Timeline(m), func(e Event) bool { return e.Date == d && strings.Contains(e.What, words) })
	}
	// Regulation (EU) 2023/1545, Article 2; not adopted for GB.
	if !has(inci.EU, date.Of(2026, 8, 1), "added allergens") || !has(inci.NI, date.Of(2028, 8, 1), "added allergens") || has(inci.GB, date.Of(2026, 8, 1), "added allergens") {
		t.Error("2026-08-01 and 2028-08-01")
	}
	if !has(inci.GB, date.Of(2028, 1, 1), "UK Responsible Person") || !has(inci.US, date.Of(2024, 12, 29), "domestic address") {
		t.Error("responsible person, contact")
	}
	for _, m := range inci.Markets {
		events := Timeline(m)
		if len(events) < 10 {
			t.Errorf("%s: %d events", m, len(events))
		}
		if !slices.IsSortedFunc(events, func(a, b Event) int {
			da, db := a.Date, b.Date
			if da == 0 {
				da = 99999999
			}
			if db == 0 {
				db = 99999999
			}
			return int(da) - int(db)
		}) {
			t.Errorf("%s: not in order", m)
		}
		for _, e := range events {
			if !slices.Contains([]string{"new", "existing", "all", "process", "info"}, e.Applies) || e.What == "" || e.Instrument == "" {
				t.Errorf("%s: %+v", m, e)
			}
		}
	}
}

// Every cell of every table is read once, so that a slip in the data cannot
// wait for a customer; every row names its source.
func TestData(t *testing.T) {
	names, err := fs.Glob(files, "data/*.csv")
	if err != nil || len(names) < 15 {
		t.Fatalf("%v, %v", names, err)
	}
	for _, name := range names {
		seen := map[string]bool{}
		for _, r := range load(strings.TrimPrefix(name, "data/")) {
			r.cite() // panics on a bad row
			key := strings.Join(r.cells, "|")
			if seen[key] {
				t.Errorf("%s:%d: the same row again", name, r.line)
			}
			seen[key] = true
			for _, c := range r.cells {
				if strings.TrimSpace(c) != c || strings.Contains(strings.ToLower(c), "compliant") {
					t.Errorf("%s:%d: %q", name, r.line, c)
				}
			}
		}
	}
	for _, m := range inci.Markets {
		r := For(m)
		for name, f := range r.facts {
			if f.file != "markets.csv" || name == "" {
				t.Errorf("%s %s: %+v", m, name, f)
			}
		}
		if len(panelRules()[m]) == 0 || len(requirements()[m]) == 0 || len(seats()[m]) == 0 || len(heightRows()[m]) == 0 {
			t.Errorf("%s lacks rows in a table", m)
		}
	}
	bannedWords()
	usNames()
	if _, err := exact.Parse(For(inci.US).facts["net-places"].value); err != nil {
		t.Error(err)
	}
}

// Codes of findings are lower-case words joined by "-" and ".".
func TestFindingCodes(t *testing.T) {
	form := regexp.MustCompile(`^(us|eu|gb|ni|ca)(\.[a-z]+(-[a-z]+)*)+$`)
	n := 0
	for _, m := range inci.Markets {
		var all []finding.Finding
		for _, q := range []Quantity{{}, qty(t, "4", "g"), qty(t, "1234.5678", "g"), qty(t, "5", "oz")} {
			for count := range 3 {
				_, fs := For(m).Net(q, count, NetOptions{EMark: true})
				all = append(all, fs...)
			}
		}
		for _, f := range append(all, For(m).CheckResponsible("", "", date.Occasion{On: 20261125, Placed: 20261125})...) {
			n++
			if !form.MatchString(string(f.Rule)) || f.Cure == "" || f.Message == "" {
				t.Errorf("%+v", f)
			}
		}
	}
	if n < 30 {
		t.Errorf("only %d findings were looked at", n)
	}
}
