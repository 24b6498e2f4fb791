package label

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// Regulation (EU) 2023/988 Art. 19: what an offer online or by post shows.
func TestOffers(t *testing.T) {
	shop := Workshop{Name: "Example Tub Works", Country: "US", SellIn: []inci.Market{inci.US, inci.EU}, Countries: []string{"DE"},
		Responsible: map[inci.Market]Responsible{
			inci.US: {Name: "Example Tub Works", Address: []string{"4 Sample Row", "Exampleton, VT 05000"}, Contact: "hello@tub.example", Country: "US"},
			inci.EU: {Name: "Beispiel GmbH", Address: []string{"Beispielweg 1", "00000 Musterstadt"}, Contact: "030 000000", Country: "DE"},
		}}
	p := rinseOff(soda("100"))
	p.Title = Wording{"de": "Heu"}
	p.Cautions = []Wording{{"de": "Macht die Wanne rutschig.", "en": "Slippery."}}
	p.Barcode = "9520000000004"
	offers := func(m inci.Market, w Workshop) []Offer {
		d := NewDesk(&w)
		return d.Offers(d.Declare(p, []inci.Market{m}, today)[0])
	}
	got := offers(inci.EU, shop)
	if len(got) != 1 || got[0].Lang != "de" || got[0].Source.Seen != finding.Yes {
		t.Fatalf("%+v", got)
	}
	want := `Heu
Badekugel
Artikel: 9520000000004
Hersteller: Example Tub Works, 4 Sample Row, Exampleton, VT 05000, hello@tub.example
Verantwortliche Person in der Union: Beispiel GmbH, Beispielweg 1, 00000 Musterstadt, 030 000000
Warnhinweise: Macht die Wanne rutschig.
`
	if diff := cmp.Diff(want, got[0].Text()); diff != "" {
		t.Error(diff)
	}
	lacks := []string{"an electronic address of the responsible person, such as an email address (contact:)", "a picture of the product"}
	if diff := cmp.Diff(lacks, got[0].Missing); diff != "" {
		t.Error(diff)
	}
	p.Packs = []Pack{{For: []inci.Market{inci.EU}, Barcode: "9520000000011"}}
	if got := offers(inci.EU, shop); got[0].Lines[2].Text != "9520000000011" {
		t.Errorf("the number of the pack is %q", got[0].Lines[2].Text)
	}
	p.Packs = nil
	if got := offers(inci.US, shop); got != nil {
		t.Errorf("the United States ask for none: %+v", got)
	}
	// A manufacturer in the Union stands alone; one without an address is missed.
	home := shop
	home.Country, home.Name = "DE", "Heuwerk"
	got = offers(inci.EU, home)
	if diff := cmp.Diff("Heuwerk", got[0].Lines[3].Text); diff != "" || len(got[0].Lines) != 5 {
		t.Errorf("%s%+v", diff, got[0].Lines)
	}
	if len(got[0].Missing) != 2 {
		t.Errorf("%q", got[0].Missing)
	}
}
