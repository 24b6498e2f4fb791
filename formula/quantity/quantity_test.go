package quantity

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panelwright/formula/exact"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		in, want string // want: value in the base unit, then kind
		kind     Kind
	}{
		{"10 oz", "283.49523125", Mass},
		{"10oz", "283.49523125", Mass},
		{"10 oz.", "283.49523125", Mass},
		{"¼ oz", "7.08738078125", Mass},
		{"0.25 oz", "7.08738078125", Mass},
		{"1 1/2 cups", "354.88235475", Volume},
		{"1-1/2 cups", "354.88235475", Volume},
		{"1½ cups", "354.88235475", Volume},
		{"1 ½ cups", "354.88235475", Volume},
		{"1\u00a01\u20442 cups", "354.88235475", Volume},
		{"one and a half cups", "354.88235475", Volume},
		{"3/2 cups", "354.88235475", Volume},
		{"half a cup", "118.29411825", Volume},
		{"two cups", "473.176473", Volume},
		{"a cup", "236.5882365", Volume},
		{"1/3 cup", "78.8627455", Volume},
		{"283.5 g", "283.5", Mass},
		{"283,5 g", "283.5", Mass},
		{"0,125 g", "0.125", Mass},
		{"1,2345 g", "1.2345", Mass},
		{".5 g", "0.5", Mass},
		{"1.000 g", "1", Mass},
		{"２５０ ｇ", "250", Mass},
		{"“250 g”", "250", Mass},
		{"250\u202fg", "250", Mass},
		{"1 kg", "1000", Mass},
		{"1 lb 4 oz", "566.9904625", Mass},
		{"1 lb. and 4 oz.", "566.9904625", Mass},
		{"1 cup + 2 tbsp", "266.1617660625", Volume},
		{"2 fl oz", "59.147059125", Volume},
		{"2 fl. oz.", "59.147059125", Volume},
		{"2 fluid ounces", "59.147059125", Volume},
		{"500 ml", "500", Volume},
		{"500 mL", "500", Volume},
		{"5 cc", "5", Volume},
		{"5 cm³", "5", Volume},
		{"1 l", "1000", Volume},
		{"1 metric cup", "250", Volume},
		{"2 tbsp", "29.5735295625", Volume},
		{"2 metric tablespoons", "30", Volume},
		{"1 tsp", "4.92892159375", Volume},
		{"8 drops", "0.4", Volume},
		{"1 imperial pint", "568.26125", Volume},
		{"1.5 %", "0.015", OfWhole},
		{"1,5%", "0.015", OfWhole},
		{"1.5 percent", "0.015", OfWhole},
		{"1.5 per cent of the mix", "0.015", OfWhole},
		{"1.5 % on top", "0.015", OnTop},
		{"3 % of fats", "0.03", OfFats},
		{"3 % of the oils", "0.03", OfFats},
		{"2 parts", "2", Parts},
		{"1 part", "1", Parts},
		{"rest", "1", Rest},
		{"the rest", "1", Rest},
		{"to 100 %", "1", Rest},
		{"q.s. to 100%", "1", Rest},
	} {
		q, err := Parse(c.in)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.in, err)
			continue
		}
		if got := q.Value().String(); got != c.want || q.Unit.Kind != c.kind {
			t.Errorf("Parse(%q) = %s of kind %d, want %s of kind %d", c.in, got, q.Unit.Kind, c.want, c.kind)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ in, wrong, cure string }{
		{"", "there is no amount", "write one, such as 10 oz, 250 g or 1.5 %"},
		{"10", "the number has no unit", "write one, such as 10 oz, 250 g or 1.5 %"},
		{"1e9 g", "a number with a power of ten", "write it out, as in 1500 g"},
		{"10 ounzes", "“ounzes” is not a known unit", "did you mean ounces?"},
		{"2 cpus", "“cpus” is not a known unit", "did you mean cups?"},
		{"5 gr", "“gr” may mean gram or grain", "write g or grain"},
		{"1 c", "“c” may mean cup or something else", "write cup"},
		{"1 T", "“T” may mean teaspoon, tablespoon or tonne", "write tsp, tbsp or kg"},
		{"2 scoops", "“scoops” is not a fixed amount", "weigh one and write the grams"},
		{"1,000 g", "“1,000” may be 1000 or 1.000", "write 1000 or 1.000"},
		{"1.000,5 g", "“1.000,5” mixes points and commas", "write one decimal point and nothing else, such as 1000.5"},
		{"1,000,000 g", "“1,000,000” has more than one point or comma", "write it without: 1000000"},
		{"1'000 g", "“1'000” has an apostrophe in the number", "write it without: 1000"},
		{"1 000 g", "“1 000” are two numbers, or one with a space in it", "write it without the space: 1000"},
		{"1/0 cup", "the fraction divides by nothing", "write it as in 1 1/2"},
		{"1-2 cups", "an amount needs one figure, and this is a range", "write what you weigh"},
		{"50–62 %", "an amount needs one figure, and this is a range", "write what you weigh"},
		{"1 to 2 g", "an amount needs one figure, and this is a range", "write what you weigh"},
		{"1 g - 2 g", "an amount needs one figure, and this is a range", "write what you weigh"},
		{"-5 g", "an amount cannot be less than nothing", "write it without the minus sign"},
		{"~5 g", "an amount needs one exact figure", "write what you weigh"},
		{"about 5 g", "an amount needs one exact figure", "write what you weigh"},
		{"<5 g", "an amount needs one exact figure", "write what you weigh"},
		{"to taste", "“to taste” names no amount", "write `rest` if it fills the mix up, else weigh it"},
		{"q.s.", "“q.s.” names no amount", "write `rest` if it fills the mix up, else weigh it"},
		{"120 ppm", "“ppm” does not belong here", "write one, such as 10 oz, 250 g or 1.5 %"},
		{"64 mm", "“mm” does not belong here", "write one, such as 10 oz, 250 g or 1.5 %"},
		{"5 % v/v", "“% v/v” is by volume; shares here are by weight", "weigh it, or ask the supplier for the share by weight"},
		{"10 oz soda", "“soda” after the amount is not understood", "write the amount alone, such as 10 oz or 1.5 % of fats"},
		{"5 g per bar", "“per bar” makes it an amount per something", "write the amount alone"},
		{"soda", "there is no number in front", "write the amount, such as 10 oz, 250 g or 1.5 %"},
		{"1e3 g", "“e” is not a known unit", ""},
		{strings.Repeat("9", 100) + " g", "the number has too many digits", "write it with fewer"},
	} {
		q, err := Parse(c.in)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("Parse(%q) = %v, %v; want an *Error", c.in, q, err)
			continue
		}
		if c.cure == "" { // only the refusal matters
			continue
		}
		if d := cmp.Diff(Error{c.in, c.wrong, c.cure}, *e); d != "" {
			t.Errorf("Parse(%q) (-want +got):\n%s", c.in, d)
		}
	}
}

func TestLeading(t *testing.T) {
	for _, c := range []struct{ in, amount, after string }{
		{"10 oz baking soda", "10 oz", "baking soda"},
		{"1 1/2 cups of corn starch", "1.5 cup", "corn starch"},
		{"1 lb 4 oz citric acid", "20 oz wt", "citric acid"},
		{"1.5 % scent", "1.5 %", "scent"},
		{"1.5 % on top scent", "1.5 % on top", "scent"},
		{"3 % of the fats vitamin E", "3 % of fats", "vitamin E"},
		{"2 parts 1,2-hexanediol", "2 parts", "1,2-hexanediol"},
		{"2 g 1,2-hexanediol", "2 g", "1,2-hexanediol"},
		{"10 g 5 % solution", "10 g", "5 % solution"},
		{"rest corn starch", "rest", "corn starch"},
		{"half a cup Epsom salt", "0.5 cup", "Epsom salt"},
		{"250 g", "250 g", ""},
	} {
		q, after, err := Leading(c.in)
		if err != nil || q.String() != c.amount || after != c.after {
			t.Errorf("Leading(%q) = %q, %q, %v; want %q, %q", c.in, q, after, err, c.amount, c.after)
		}
	}
}

// What String prints, Parse reads back to the same value, grams above all:
// they are echoed and copied.
func TestPrintAndReadAgain(t *testing.T) {
	all := Units()
	rapid.Check(t, func(t *rapid.T) {
		n := exact.Frac(rapid.Int64Range(0, 1<<40).Draw(t, "n"), rapid.Int64Range(1, 1<<20).Draw(t, "d"))
		u := rapid.SampledFrom(all).Draw(t, "unit")
		q := Quantity{Number: n, Unit: u}
		switch u.Kind {
		case Rest:
			return
		case OfSheet, Length:
			q = Grams(n)
		}
		for _, q := range []Quantity{q, Grams(q.Value())} {
			got, err := Parse(q.String())
			if err != nil || !got.Value().Equal(q.Value()) || got.Unit.Kind != q.Unit.Kind {
				t.Fatalf("printed %q, read %v, %v", q, got, err)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"10 oz", "1 1/2 cups", "½ oz", "1 lb 4 oz", "1.5 % on top", "3 % of fats", "50-62 %", "<0,1 %", "nd <10 ppm",
		"1,000 g", "rest", "q.s. to 100 %", "0.97 g/ml", "210 x 50 mm", "5 % ± 0.5 %", "50-62 % (typ. 55 %)", "1/0", "１½　cup", "\x00\xff", "''"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if q, err := Parse(s); err == nil {
			if q.Value().Sign() < 0 {
				t.Fatalf("%q is below nothing: %v", s, q)
			}
			again, err := Parse(q.String())
			if err != nil || !again.Value().Equal(q.Value()) || again.Unit.Kind != q.Unit.Kind {
				t.Fatalf("%q printed as %q, read %v, %v", s, q, again, err)
			}
		} else if e := new(Error); !errors.As(err, &e) || e.Wrong == "" || e.Cure == "" {
			t.Fatalf("%q: %#v", s, err)
		}
		if q, after, err := Leading(s); err == nil && len(after) > 4*len(s) {
			t.Fatalf("Leading(%q) = %v, %q", s, q, after)
		}
		if sh, err := ParseShare(s); err == nil {
			if sh.Lo.Sign() < 0 || sh.Hi.Less(sh.Lo) || exact.Int(1).Less(sh.Hi) {
				t.Fatalf("ParseShare(%q) = %v to %v", s, sh.Lo, sh.Hi)
			}
		} else if e := new(Error); !errors.As(err, &e) || e.Wrong == "" || e.Cure == "" {
			t.Fatalf("share %q: %#v", s, err)
		}
		if d, err := ParseDensity(s); err == nil && d.Sign() <= 0 {
			t.Fatalf("ParseDensity(%q) = %v", s, d)
		}
		if l, err := ParseLengths(s); err == nil && len(l) == 0 {
			t.Fatalf("ParseLengths(%q) returned nothing", s)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("1 1/2 cups"); err != nil {
			b.Fatal(err)
		}
	}
}
