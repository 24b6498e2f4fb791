package inci

import (
	"slices"
	"strings"
	"testing"

	"panelwright/formula"
)

// Names of the ingredient inventory whose plant or animal is in the name itself.
func TestFoodOrigins(t *testing.T) {
	for name, want := range map[string]string{
		"PRUNUS AMYGDALUS DULCIS OIL": "nuts", "CORYLUS AVELLANA SEED OIL": "nuts", "MACADAMIA TERNIFOLIA SEED OIL": "nuts", "SODIUM SWEET ALMONDATE": "nuts",
		"ARACHIS HYPOGAEA OIL": "peanut", "TRITICUM VULGARE GERM OIL": "cereals with gluten", "AVENA SATIVA KERNEL FLOUR": "cereals with gluten",
		"HYDROLYZED WHEAT PROTEIN": "cereals with gluten", "CAPRAE LAC": "milk", "HYDROLYZED WHEY PROTEIN": "milk",
		"GLYCINE SOJA OIL": "soy", "SESAMUM INDICUM SEED OIL": "sesame", "HYDROGENATED SESAME SEED OIL": "sesame",
		"LECITHIN": "may soy", "TOCOPHEROL": "may soy", "HYDROLYZED VEGETABLE PROTEIN": "may soy, may cereals with gluten",
		"SHELLAC": "", "LACTIC ACID": "", "COCOS NUCIFERA OIL": "", "PRUNUS ARMENIACA KERNEL OIL": "", "ZEA MAYS STARCH": "", "THEOBROMA CACAO SEED BUTTER": "", "SODIUM LACTATE": "",
	} {
		var got []string
		for _, o := range FoodOrigins(formula.Key(name)) {
			if o.May {
				o.Food = "may " + o.Food
			}
			got = append(got, o.Food)
			if o.Source.Text == "" || o.Source.Seen == "" {
				t.Errorf("%s: no source", name)
			}
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%s: %q, want %q", name, strings.Join(got, ", "), want)
		}
	}
	for _, r := range originRows() {
		if !slices.Contains(Foods, r.origin.Food) {
			t.Errorf("%s is not among Foods", r.origin.Food)
		}
		if len(r.words) == 0 {
			t.Errorf("a row of %s has no words", r.origin.Food)
		}
	}
}

// Every row meets a name of the inventory.
func TestFoodOriginsMeet(t *testing.T) {
	met := map[string]bool{}
	for _, r := range readTable(glossaryText).rows {
		name := nameWords(r.get("inci"))
		for _, o := range originRows() {
			if key := strings.Join(o.words, " ") + o.origin.Food; !met[key] && hasRun(name, o.words) {
				met[key] = true
			}
		}
	}
	for _, o := range originRows() {
		if !met[strings.Join(o.words, " ")+o.origin.Food] {
			t.Errorf("no name has the words %v", o.words)
		}
	}
}
