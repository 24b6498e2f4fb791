package label

import (
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// claimsOf returns the rules of the claim findings, with their severities.
func claimsOf(x *Declaration) string {
	var out []string
	for _, f := range x.Findings {
		if strings.Contains(string(f.Rule), ".claim.") {
			out = append(out, f.Severity.String()+" "+string(f.Rule))
		}
	}
	return strings.Join(out, "; ")
}

func TestClaims(t *testing.T) {
	for _, c := range []struct {
		text string // English, German or French by prefix; "en" where there is none
		m    inci.Market
		want string
	}{
		// A promise to treat or prevent illness: an error in all markets.
		{"Heals eczema", inci.US, "error us.claim.medicinal; error us.claim.medicinal"},
		{"Healing Hands", inci.EU, "error eu.claim.medicinal"},
		{"Kills 99 % of germs", inci.GB, "error gb.claim.medicinal"},
		{"anti-bacterial", inci.NI, "error ni.claim.medicinal"},
		{"Antibacterial", inci.CA, "error ca.claim.medicinal"},
		{"Treats acne", inci.US, "error us.claim.medicinal"},
		{"For pain relief", inci.US, "error us.claim.medicinal"},
		{"de:Heilsalbe", inci.EU, "error eu.claim.medicinal"},
		{"de:Gegen Neurodermitis", inci.EU, "error eu.claim.medicinal"},
		{"de:Entzündungshemmend", inci.EU, "error eu.claim.medicinal"},
		{"fr:Soulage l’eczéma", inci.CA, "error ca.claim.medicinal; question ca.claim.maybe-medicinal"},
		{"fr:Guérit la peau", inci.CA, "error ca.claim.medicinal"},
		{"fr:Pain de savon", inci.CA, ""}, // a loaf of soap in French, no ache in English
		{"A healthy glow", inci.US, ""},
		{"Wheat and heather", inci.US, ""},
		{"Paint the bath", inci.US, ""},
		{"Aromatherapy", inci.US, ""},
		{"Not a medicine", inci.US, ""},
		// Of several meanings alone, a promise in company.
		{"The fever of spring", inci.EU, "question eu.claim.maybe-medicinal"},
		{"Soothes pain", inci.GB, "error gb.claim.medicinal"},
		{"Brings down fever. For the bath", inci.US, "question us.claim.maybe-medicinal"},
		{"de:Bei Fieber", inci.EU, "error eu.claim.medicinal"},
		{"fr:Contre la fièvre", inci.CA, "error ca.claim.medicinal"},
		{"it:Contro la febbre", inci.EU, ""},
		{"Legal in all states", inci.US, "warning us.claim.boast"},
		{"Legal in all states", inci.CA, "error ca.claim.boast"},
		{"As sold in all states", inci.CA, ""},
		{"Treat yourself", inci.US, "question us.claim.maybe-medicinal"},
		{"A treat for tired feet", inci.EU, "question eu.claim.maybe-medicinal"},
		{"A sweet treat", inci.EU, ""},
		{"Cured with care", inci.US, "question us.claim.maybe-medicinal"},
		{"Cured for six weeks", inci.US, ""},
		{"Detoxifying soak", inci.CA, "question ca.claim.maybe-medicinal"},
		{"SPF 15", inci.US, "error us.claim.sun"},
		{"SPF 15", inci.EU, "question eu.claim.sun"},
		// Regulation (EU) No 655/2013: the common criteria.
		{"Approved by the FDA", inci.EU, "error eu.claim.boast"},
		{"Grandma approved", inci.EU, ""},
		{"Meets the Food and Drugs Act", inci.CA, "error ca.claim.boast"},                          // Cosmetic Regulations s. 17
		{"On prescription only", inci.CA, "error ca.claim.medicinal; error ca.claim.prescription"}, // s. 12
		{"FDA approved", inci.US, "warning us.claim.boast"},
		{"Dermatologically tested", inci.EU, "question eu.claim.evidence; question eu.claim.evidence"},
		{"Hypoallergenic", inci.GB, "question gb.claim.evidence"},
		{"Hypoallergenic", inci.US, ""},
		{"Free from parabens", inci.EU, "warning eu.claim.free-from"},
		{"Sulfate-free", inci.NI, "warning ni.claim.free-from"},
		{"de:Ohne Parabene", inci.EU, "warning eu.claim.free-from"},
		{"Free range oats", inci.EU, ""},
		{"Not tested on animals", inci.EU, "question eu.claim.animals"},
		{"Not tested on animals", inci.CA, "question ca.claim.animals"},
		{"Cruelty free", inci.GB, "question gb.claim.animals"},
		{"All natural", inci.EU, "warning eu.claim.natural"},
		{"de:Naturkosmetik", inci.EU, "warning eu.claim.natural"},
		{"Eco-friendly", inci.EU, "question eu.claim.environment"},
		{"de:Biologisch abbaubar", inci.EU, "question eu.claim.environment"},
		{"Eco-friendly", inci.GB, ""},
		{"Softens the skin", inci.EU, ""},
		{"de:Heals all", inci.US, ""}, // not spoken there
	} {
		t.Run(string(c.m)+" "+c.text, func(t *testing.T) {
			lang, text, ok := strings.Cut(c.text, ":")
			if !ok {
				lang, text = "en", c.text
			}
			p := rinseOff(soda("100"))
			p.Claims = []Wording{{lang: text}}
			p.Packs = []Pack{{For: []inci.Market{inci.EU}, Languages: []string{"de", "en", "it"}}, {For: []inci.Market{inci.US, inci.GB, inci.NI, inci.CA}}}
			x := declareIn(c.m, p, today)
			if got := claimsOf(x); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
			for _, f := range x.Findings {
				if strings.Contains(string(f.Rule), ".claim.") && (!strings.Contains(f.Message, "in the claims (“"+text+"”)") || f.Cure == "" || f.Source.Text == "") {
					t.Errorf("%+v", f)
				}
			}
		})
	}
}

// In a name a word alone is a question; words that can mean nothing else, or that
// stand with another, are a promise there too.
func TestClaimsInNames(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Cabin Fever bar", ""},
		{"Fever Tree bar", "question us.claim.maybe-medicinal"},
		{"Pain d'épices", ""},
		{"Growing Pains", "question us.claim.maybe-medicinal"},
		{"Self-heal flower", ""},
		{"Heal the World", "question us.claim.maybe-medicinal"},
		{"Legal Eagle", ""},
		{"Prescription for Joy", "question us.claim.maybe-medicinal"},
		{"The Cures", "question us.claim.maybe-medicinal"},
		{"Heal Eczema", "error us.claim.medicinal; error us.claim.medicinal"},
		{"Pain relief balm", "error us.claim.medicinal"},
		{"Eczema balm", "error us.claim.medicinal"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := rinseOff(soda("100"))
			p.Title = Wording{"en": c.name}
			if got := claimsOf(declareIn(inci.US, p, today)); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// A language that nobody here reads is said, not passed over.
func TestClaimsUnread(t *testing.T) {
	p := rinseOff(soda("100"))
	p.Packs = []Pack{{For: []inci.Market{inci.EU}, Languages: []string{"it", "en"}}}
	p.Claims = []Wording{{"it": "Contro la febbre", "en": "Softens the skin"}}
	var got []string
	for _, f := range declareIn(inci.EU, p, today).Findings {
		if f.Rule == "claim.language" {
			got = append(got, f.Message)
		}
	}
	if len(got) != 1 || !strings.HasPrefix(got[0], "claims in Italian are not read") {
		t.Error(got)
	}
}

// Directive (EU) 2024/825, from memory: from 2026-09-27, for stock too.
func TestEnvironmentDate(t *testing.T) {
	p := rinseOff(soda("100"))
	p.Claims = []Wording{{"de": "Klimaneutral"}}
	if got := claimsOf(declareIn(inci.EU, p, fresh("2026-09-26"))); got != "" {
		t.Error(got)
	}
	if got := claimsOf(declareIn(inci.EU, p, stock("2026-09-26", "2026-09-27"))); got != "question eu.claim.environment" {
		t.Error(got)
	}
}

// Every text on the pack counts, and the name as well as a sentence.
func TestWhereClaimsStand(t *testing.T) {
	for what, set := range map[string]func(*Product){
		"the name":       func(p *Product) { p.Name = "acne fizz" },
		"the title":      func(p *Product) { p.Title = Wording{"en": "Acne Fizz"} },
		"the identity":   func(p *Product) { p.Identity = Wording{"en": "Acne fizz"} },
		"the function":   func(p *Product) { p.Function = Wording{"en": "Takes acne away."} },
		"the directions": func(p *Product) { p.Directions = Wording{"en": "Rub on acne."} },
		"the claims":     func(p *Product) { p.Claims = []Wording{{"en": "No more acne."}} },
	} {
		p := rinseOff(soda("100"))
		set(p)
		f := oneOf(t, declareIn(inci.US, p, today), "us.claim.medicinal")
		if !strings.Contains(f.Message, "in "+what) {
			t.Errorf("%s: %s", what, f.Message)
		}
	}
	s := twoFizzes()
	s.Title = Wording{"en": "Acne Box"}
	oneOf(t, declareSet(s, inci.US), "us.claim.medicinal")
}

func TestLooksLikeFood(t *testing.T) {
	p := rinseOff(soda("100"))
	never(t, declareIn(inci.EU, p, today), "eu.looks-like-food")
	p.Title = Wording{"en": "Lemon Cupcake"}
	for m, rule := range map[inci.Market]finding.Code{inci.GB: "gb.looks-like-food", inci.NI: "ni.looks-like-food"} {
		if f := oneOf(t, declareIn(m, p, today), rule); f.Severity != finding.Question || !f.Source.Unverified() {
			t.Errorf("%+v", f)
		}
	}
	if f := oneOf(t, declareIn(inci.US, p, today), "product.looks-like-food"); f.Severity != finding.Note {
		t.Errorf("%+v", f)
	}
	p.LooksLikeFood = SaidNo
	never(t, declareIn(inci.GB, p, today), "gb.looks-like-food")
	p.Title, p.LooksLikeFood = nil, SaidYes
	oneOf(t, declareIn(inci.EU, p, today), "eu.looks-like-food") // Regulation (EU) 2023/988 Art. 6(1)(f)(i)
	p.Cautions = []Wording{{"phrase": "caution.food"}}
	oneOf(t, declareIn(inci.EU, p, today), "eu.looks-like-food") // Art. 3 of Regulation 1223/2009: a warning does not cure it
	never(t, declareIn(inci.US, p, today), "product.looks-like-food")
	p.Cautions, p.LooksLikeFood, p.Title = nil, Unsaid, Wording{"en": "Mango Butter"}
	never(t, declareIn(inci.GB, p, today), "gb.looks-like-food")
	p.Title, p.Type = nil, "bath truffle"
	oneOf(t, declareIn(inci.GB, p, today), "gb.looks-like-food")
}

func TestSmallParts(t *testing.T) {
	for _, c := range []struct {
		name     string
		small    Stated
		children bool
		called   string
		want     bool
	}{
		{"nothing said", Unsaid, false, "Hay", false},
		{"a toy inside", SaidYes, false, "Hay", true},
		{"for children, nothing said", Unsaid, true, "Hay", true},
		{"for children, none", SaidNo, true, "Hay", false},
		{"the name tells of one", Unsaid, false, "Toy Surprise", true},
		{"the name tells of one, but there is none", SaidNo, false, "Toy Surprise", false},
	} {
		p := rinseOff(soda("100"))
		p.SmallParts, p.ForChildren, p.Name = c.small, c.children, c.called
		for _, m := range inci.Markets {
			f := found(declareIn(m, p, today).Findings, finding.Code(string(m)+".small-parts"))
			if (len(f) > 0) != c.want || c.want && (len(f) != 1 || f[0].Severity != finding.Question) {
				t.Errorf("%s, %s: %v", c.name, m, f)
			}
		}
	}
}

// 21 CFR 701.20: opt-in, for soap sold as soap alone; the list stays.
func TestSoapExemption(t *testing.T) {
	bar := func() *Product {
		p := rinseOff(weigh(pure("soap noodles", "SODIUM PALMATE", "surfactant"), "95"), weigh(of("GLYCERIN"), "5"))
		p.Name, p.Type, p.SoapExempt = "plain bar", "soap", true
		p.Identity = Wording{"en": "Soap"}
		return p
	}
	x := declareIn(inci.US, bar(), today)
	if f := oneOf(t, x, "us.soap"); f.Severity != finding.Question || !strings.HasPrefix(f.Source.Text, "21 CFR 701.20") {
		t.Errorf("%+v", f)
	}
	wantList(t, x, "Sodium Palmate, Glycerin")
	for _, rule := range []finding.Code{"us.soap.type", "us.soap.claim", "us.soap.detergent"} {
		never(t, x, rule)
	}
	never(t, declareIn(inci.EU, bar(), today), "eu.soap")
	never(t, declareIn(inci.US, changed(bar(), func(p *Product) { p.SoapExempt = false }), today), "us.soap")
	for rule, set := range map[finding.Code]func(*Product){
		"us.soap.type":  func(p *Product) { p.Type = "bath fizz" },
		"us.soap.claim": func(p *Product) { p.Title = Wording{"en": "Moisturising Bar"} }, // the name counts
		"us.soap.detergent": func(p *Product) {
			p.Piece.Lines = append(p.Piece.Lines, weigh(pure("isethionate", "SODIUM COCOYL ISETHIONATE", "surfactant"), "5"))
		},
	} {
		if f := oneOf(t, declareIn(inci.US, changed(bar(), set), today), rule); f.Severity != finding.Error {
			t.Errorf("%+v", f)
		}
	}
}

// Directions may warn of what a claim may not promise.
func TestDirectionsMayWarn(t *testing.T) {
	for text, want := range map[string]string{
		"Do not use on open wounds.":                  "",
		"Avoid if you have eczema or broken skin.":    "",
		"Do not swallow. Heals wounds.":               "error us.claim.medicinal; error us.claim.medicinal",
		"Use daily: it heals, and do not rub on cuts": "error us.claim.medicinal",
	} {
		p := rinseOff(soda("100"))
		p.Directions = Wording{"en": text}
		if got := claimsOf(declareIn(inci.US, p, today)); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}
