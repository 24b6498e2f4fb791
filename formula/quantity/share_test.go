package quantity

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestParseShare(t *testing.T) {
	for _, c := range []struct{ in, lo, hi, typical string }{
		{"4.2 %", "0.042", "0.042", "0.042"},
		{"4,2 %", "0.042", "0.042", "0.042"},
		{"4.2 % w/w", "0.042", "0.042", "0.042"},
		{"50-62 %", "0.5", "0.62", ""},
		{"50–62%", "0.5", "0.62", ""},
		{"50 to 62 %", "0.5", "0.62", ""},
		{"50 % - 62 %", "0.5", "0.62", ""},
		{"between 50 and 62 %", "0.5", "0.62", ""},
		{"0,5 - 1,2 %", "0.005", "0.012", ""},
		{"50-62 %, typical 55 %", "0.5", "0.62", "0.55"},
		{"50-62 % (typ. 55 %)", "0.5", "0.62", "0.55"},
		{"50-62 % (55 %)", "0.5", "0.62", "0.55"},
		{"55 % (50-62 %)", "0.5", "0.62", "0.55"},
		{"5 % ± 0.5 %", "0.045", "0.055", "0.05"},
		{"5 ± 0.5 %", "0.045", "0.055", "0.05"},
		{"<0.1 %", "0", "0.001", ""},
		{"< 0,1 %", "0", "0.001", ""},
		{"≤ 5 %", "0", "0.05", ""},
		{"<= 5 %", "0", "0.05", ""},
		{"up to 5 %", "0", "0.05", ""},
		{"max. 5 %", "0", "0.05", ""},
		{"at least 95 %", "0.95", "1", ""},
		{">= 10 - < 25 %", "0.1", "0.25", ""},
		{"120 ppm", "0.00012", "0.00012", "0.00012"},
		{"10-50 ppm", "0.00001", "0.00005", ""},
		{"50 ppm - 0.1 %", "0.00005", "0.001", ""},
		{"120 mg/kg", "0.00012", "0.00012", "0.00012"},
		{"nd <10 ppm", "0", "0.00001", ""},
		{"n.d. (10 ppm)", "0", "0.00001", ""},
		{"ND (LOD: 10 ppm)", "0", "0.00001", ""},
		{"not detected, limit 10 ppm", "0", "0.00001", ""},
		{"1/2 %", "0.005", "0.005", "0.005"},
		{"0 %", "0", "0", "0"},
		{"100 %", "1", "1", "1"},
	} {
		sh, err := ParseShare(c.in)
		if err != nil {
			t.Errorf("ParseShare(%q): %v", c.in, err)
			continue
		}
		typical := ""
		if sh.Stated {
			typical = sh.Typical.String()
		}
		if d := cmp.Diff([]string{c.lo, c.hi, c.typical}, []string{sh.Lo.String(), sh.Hi.String(), typical}); d != "" {
			t.Errorf("ParseShare(%q) (-want +got):\n%s", c.in, d)
		}
		if sh.NotDetected || sh.Rest {
			t.Errorf("ParseShare(%q) is marked nd or rest", c.in)
		}
	}
	if sh, err := ParseShare("nd"); err != nil || !sh.NotDetected || !sh.Hi.IsZero() {
		t.Errorf("nd without a limit = %+v, %v", sh, err)
	}
	if sh, err := ParseShare("rest"); err != nil || !sh.Rest || sh.Hi.String() != "1" {
		t.Errorf("rest = %+v, %v", sh, err)
	}
}

func TestParseShareRefuses(t *testing.T) {
	for _, c := range []struct{ in, wrong, cure string }{
		{"", "there is no share", "write one, such as 4.2 % or 0.5-1.2 %"},
		{"4.2", "the number has no unit", "write one, such as 4.2 % or 120 ppm"},
		{"50-62", "the number has no unit", "write one, such as 4.2 % or 120 ppm"},
		{"traces", "traces are not a figure", "ask the supplier for one, such as <0.01 % or nd <10 ppm"},
		{"1,000 ppm", "“1,000” may be 1000 or 1.000", "write 1000 or 1.000"},
		{"62-50 %", "the range runs backwards", "write the smaller figure first"},
		{"120 %", "that is more than 100 %", "write the share of the material, at most 100 %"},
		{"> 120 %", "that is more than 100 %", "write the share of the material, at most 100 %"},
		{"50-62 %, typical 70 %", "the typical figure lies outside the range", "check both against the sheet"},
		{"4.2 g", "“g” does not belong here", "write one, such as 4.2 % or 120 ppm"},
		{"5 % v/v", "“% v/v” is by volume; shares here are by weight", "weigh it, or ask the supplier for the share by weight"},
		{"4.2 % linalool", "“linalool” after the share is not understood", "write the share alone, such as 4.2 % or 0.5-1.2 %"},
		{"about 5 %", "an amount needs one exact figure", "write what you weigh"},
	} {
		sh, err := ParseShare(c.in)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("ParseShare(%q) = %+v, %v; want an *Error", c.in, sh, err)
			continue
		}
		if d := cmp.Diff(Error{c.in, c.wrong, c.cure}, *e); d != "" {
			t.Errorf("ParseShare(%q) (-want +got):\n%s", c.in, d)
		}
	}
}
