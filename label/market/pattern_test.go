package market

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panelwright/inci"
)

func TestWords(t *testing.T) {
	var got []string
	text := "Heuwiese: süße, sulfate-free CRÈME d’amour 99 %"
	for _, w := range Words(text) {
		got = append(got, w.Folded)
		if s := text[w.Start:w.End]; strings.Trim(s, " ,:-’%") != s || s == "" {
			t.Errorf("%q stands at %q", w.Folded, s)
		}
	}
	if diff := cmp.Diff(strings.Fields("heuwiese susse sulfate free creme d amour 99"), got); diff != "" {
		t.Error(diff)
	}
	if w := Words("cafe\u0301"); len(w) != 1 || w[0].Folded != "cafe" || w[0].End != 6 {
		t.Errorf("an accent of its own: %+v", w)
	}
	if w := Words(" — "); w != nil {
		t.Errorf("no words: %+v", w)
	}
}

func TestPattern(t *testing.T) {
	for _, c := range []struct {
		pattern, text string
		want          bool
	}{
		{"acne", "for acne prone skin", true},
		{"acne", "Acnefree", false},
		{"heal/heals", "it HEALS", true},
		{"heal/heals", "health", false},
		{"heil*", "Heilkräuter", true},
		{"*frei", "parabenfrei", true},
		{"*kuchen*", "Obstkuchenform", true},
		{"not tested on animals", "Not tested on animals!", true},
		{"not tested on animals", "tested on animals", false},
		{"kills ... germs", "kills germs", true},
		{"kills ... germs", "kills 99 % of germs", true},
		{"kills ... germs", "kills nearly all of the germs", false},
		{"entzündung", "Entzundung", true},
		{"", "anything", false},
	} {
		if got := ParsePattern(c.pattern).In(Words(c.text)); got != c.want {
			t.Errorf("%q in %q: %v", c.pattern, c.text, got)
		}
	}
}

func TestSayings(t *testing.T) {
	told := func(text, lang string) string {
		var out []string
		said, known := Sayings(text, lang)
		if !known {
			return "unknown"
		}
		for _, s := range said {
			out = append(out, s.Kind+" "+text[s.Start:s.End])
		}
		return strings.Join(out, "; ")
	}
	for _, c := range []struct{ text, lang, want string }{
		{"Cruelty-free, never tested on animals", "en", "animals Cruelty-free; animals never tested on animals"},
		{"Clinically tested: soothes eczema", "en", "evidence Clinically; evidence tested; cosmetic soothes; pairing soothes; medicinal eczema"},
		{"Mango butter melt", "en", ""},
		{"Mango melt", "en", "food Mango"},
		{"Ohne Parabene", "de", "free-from Ohne Parabene"},
		{"Sans parabène", "fr", "free-from Sans parabène"},
		{"Heals", "hu", "unknown"},
		{"", "en", ""},
	} {
		if got := told(c.text, c.lang); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

// Every kind of words is one that some market judges, or that package label
// asks for by name; every rule about a kind has words.
func TestClaimKinds(t *testing.T) {
	judged := map[string]bool{shield: true, "food": true, "toy": true, "cosmetic": true, "healing": true, "ailment": true}
	for _, m := range inci.Markets {
		for _, c := range claimRules()[m] {
			judged[c.Kind] = true
			if c.Kind == "medicinal" && c.Severity != severities["error"] {
				t.Errorf("%s: medicinal claims are errors in all markets", m)
			}
			if !strings.HasPrefix(string(c.Rule), string(m)+".claim.") || c.Says == "" || c.Cure == "" {
				t.Errorf("%+v", c)
			}
		}
	}
	has := map[string]bool{}
	for _, r := range load("claim-words.csv") {
		has[r.text("kind")] = true
		if k := r.text("kind"); !judged[k] && k != "warning" && k != "pairing" { // a warning takes the edge off what follows
			t.Errorf("%s:%d: nobody judges %q", r.file, r.line, r.text("kind"))
		}
	}
	for k := range judged {
		if !has[k] {
			t.Errorf("no words for %q", k)
		}
	}
}

// The substances of topics.csv are names of the ingredient inventory, and each
// topic has a row in some market.
func TestTopics(t *testing.T) {
	n := 0
	for k, ts := range topics() {
		if s, ok := inci.Find(string(k)); !ok || s.Key != k {
			t.Errorf("%s is not in the inventory", k)
		}
		for _, topic := range ts {
			n++
			if len(cautions()[cautionKey{inci.CA, topic}]) == 0 {
				t.Errorf("%s: no row in cautions.csv", topic)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d", n)
	}
}

// 21 CFR 740.17(c): the phrase may follow the word "children".
func TestFoamBathCaution(t *testing.T) {
	plain, young := FoamBathCaution(false), FoamBathCaution(true)
	if !strings.HasSuffix(plain.Text, "Keep out of reach of children.") || young.Text != strings.TrimSuffix(plain.Text, ".")+" except under adult supervision." {
		t.Errorf("%q, %q", plain.Text, young.Text)
	}
}

func TestUsesOf(t *testing.T) {
	for typed, want := range map[string]string{
		"sugar scrub": "shower scrub", "lip scrub": "scrub", "bubble bath": "foam", "shower oil": "shower", "shower gel": "", "bath fizz": "", "foaming bath fizz": "foam",
	} {
		if got := strings.Join(UsesOf(typed), " "); got != want {
			t.Errorf("%s: %q, want %q", typed, got, want)
		}
	}
}

func TestCautionLimits(t *testing.T) {
	for _, c := range []struct{ topic, text string }{{"slippery-dose", "1/2 oz (14.17 g)"}, {"oil-eucalyptus", "0.022 %"}} {
		row := cautions()[cautionKey{inci.CA, c.topic}][0]
		if !row.HasLimit || row.LimitText != c.text || row.From || !row.Passes(row.Limit) {
			t.Errorf("%+v", row)
		}
	}
	if row := cautions()[cautionKey{inci.EU, "plastic"}][0]; !row.From || row.Passes(row.Limit) {
		t.Errorf("entry 78: 0.01 %% or more: %+v", row)
	}
}
