package quantity

import (
	"strings"
	"testing"
)

func TestParseDensity(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"0.97 g/ml", "0.97"}, {"0,97 kg/l", "0.97"}, {"970 g/l", "0.97"}, {"0.97 g/cm³", "0.97"}, {"0.97 g/ml at 20 °C", "0.97"},
		{"0.97 g / ml (20 C)", "0.97"}, {"125 g per metric cup", "0.5"}, {"metric cup = 125 g", "0.5"}, {"1 metric cup weighs 125 g", "0.5"},
		{"250 g per 2 metric cups", "0.5"}, {"25 g per 1/2 metric cup", "0.2"},
	} {
		d, err := ParseDensity(c.in)
		if err != nil || d.String() != c.want {
			t.Errorf("ParseDensity(%q) = %v, %v; want %s", c.in, d, err, c.want)
		}
	}
	for _, c := range []struct{ in, want string }{
		{"0.97", "write it as in 0.97 g/ml"}, {"0.97 g", "write it as in 0.97 g/ml"}, {"970 g/ml", "g/ml or g/l"}, {"0 g/ml", "cannot be nothing"},
		{"0.9-1.0 g/ml", "range"}, {"5 ml/cup", "a weight for a volume"}, {"1,000 g/l", "may be 1000 or 1.000"},
	} {
		if d, err := ParseDensity(c.in); err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "“"+c.in+"”") {
			t.Errorf("ParseDensity(%q) = %v, %v; want an error that names it and says %q", c.in, d, err, c.want)
		}
	}
}

func TestParseLengths(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"64 mm", "64"}, {"6,4 cm", "64"}, {"210 x 50 mm", "210 50"}, {"210×50mm", "210 50"}, {"210 mm by 5 cm", "210 50"},
		{"2 1/2 in", "63.5"}, {`2.5" x 4"`, "63.5 101.6"},
	} {
		all, err := ParseLengths(c.in)
		var got []string
		for _, q := range all {
			got = append(got, q.Value().String())
		}
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("ParseLengths(%q) = %v, %v; want %s", c.in, got, err, c.want)
		}
	}
	for _, in := range []string{"", "64", "210 x 50", "64 g", "64 mm wide", "x 50 mm", "210 x"} {
		if all, err := ParseLengths(in); err == nil {
			t.Errorf("ParseLengths(%q) = %v, want an error", in, all)
		}
	}
}
