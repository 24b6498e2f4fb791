package market

import (
	"testing"

	"panelwright/inci"
)

func TestSoapLists(t *testing.T) {
	for _, tt := range []struct {
		m          inci.Market
		in, choice bool
		source     string
	}{
		{inci.EU, true, true, "1223/2009 Art. 19(1)(g): weight at the time of adding"}, {inci.GB, true, true, "the same as it applies there"},
		{inci.NI, true, true, "the same as it applies there"}, {inci.US, false, true, "21 CFR 701.3 names no moment"},
		{inci.CA, false, false, "C.R.C., c. 869 s. 2: what is gone through the chemical process is no ingredient"},
	} {
		l := For(tt.m).SoapList()
		if l.WentIn != tt.in || l.Choice != tt.choice || l.InSays == "" || l.OutSays == "" || l.Why == "" {
			t.Errorf("%s: %+v, want in %v, choice %v (%s)", tt.m, l, tt.in, tt.choice, tt.source)
		}
	}
}
