package market

import (
	"strings"
	"testing"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// 21 U.S.C. 364a asks for the report within 15 business days; Regulation (EC) No 1223/2009 Art. 23 "without delay".
func TestTell(t *testing.T) {
	for _, m := range inci.Markets {
		if w := Tell(m); w.Who == "" || w.When == "" || w.Source.Text == "" || w.Source.Seen == "" {
			t.Errorf("%s: nothing says whom to tell: %+v", m, w)
		}
	}
	if w := Tell(inci.US); !strings.Contains(w.When, "15 business days") || w.Source.Seen != finding.Yes {
		t.Errorf("US: %+v", w)
	}
	if w := Tell(inci.EU); w.When != "without delay" || w.Source.Unverified() {
		t.Errorf("EU: %+v", w)
	}
	for _, m := range []inci.Market{inci.GB, inci.CA} {
		if !Tell(m).Source.Unverified() {
			t.Errorf("%s: what rests on memory does not say so", m)
		}
	}
}
