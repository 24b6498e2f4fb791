package code

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula/outside"
	"panelwright/label/render/pdf"
	"panelwright/label/scene"
)

func TestParse(t *testing.T) {
	for _, tt := range []struct{ name, in, want, err string }{
		// The worked example of GS1, "How to calculate a check digit manually" (memory).
		{"EAN-13", "6291041500213", "6291041500213", ""},
		{"UPC-A", "123456789012", "123456789012", ""},
		{"EAN-8", "12345670", "12345670", ""},
		{"as printed", "9 520000 000004", "9520000000004", ""},
		{"wrong check digit", "6291041500214", "", "the check digit of “6291041500214” is 4 and should be 3"},
		{"too short", "629104150021", "", "the check digit"},
		{"a digit missing", "62910415002", "", "has 11 digits"},
		{"letters", "62910415002a", "", "write its digits only"},
		{"empty", "", "", "has 0 digits"},
	} {
		n, err := Parse(tt.in)
		if string(n) != tt.want || (err == nil) != (tt.err == "") || err != nil && !strings.Contains(err.Error(), tt.err) {
			t.Errorf("%s: %q, %v", tt.name, n, err)
		}
	}
}

// One digit misread, and two neighbours exchanged unless they differ by five, are always found out.
func TestCheckDigitFindsSlips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.SampledFrom([]int{7, 11, 12}).Draw(t, "length")
		n := make([]byte, length, length+1)
		for i := range n {
			n[i] = byte('0' + rapid.IntRange(0, 9).Draw(t, "digit"))
		}
		n = append(n, checkDigit(string(n)))
		if _, err := Parse(string(n)); err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, length).Draw(t, "at")
		wrong := bytes.Clone(n)
		wrong[i] = '0' + (wrong[i]-'0'+byte(rapid.IntRange(1, 9).Draw(t, "by")))%10
		if _, err := Parse(string(wrong)); err == nil {
			t.Fatalf("%s is taken for good", wrong)
		}
	})
}

func TestCirculation(t *testing.T) {
	for _, tt := range []struct{ n, want string }{
		{"9520000000004", "demonstration"}, {"2000000000008", "restricted"}, {"0400000000008", "restricted"},
		{"1234567890128", ""}, {"123456789012", ""}, {"212345678992", "restricted"}, {"20123451", "restricted"}, {"12345670", ""},
		{"9780000000002", "reserved"},
	} {
		n, err := Parse(tt.n)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if got, _ := n.Circulation(); got != tt.want {
			t.Errorf("%s is %q, want %q", tt.n, got, tt.want)
		}
	}
}

func TestData(t *testing.T) {
	if n := len(data().specs); n != 4 {
		t.Errorf("%d kinds of code", n)
	}
	for d, c := range data().digits {
		if sum := c.widths[0] + c.widths[1] + c.widths[2] + c.widths[3]; sum != 7 || len(c.first) != 6 {
			t.Errorf("digit %d is %d modules wide, with sets %q", d, sum, c.first)
		}
	}
	for _, name := range []string{"symbols.csv", "digits.csv", "prefixes.csv", "curve.csv"} {
		for i, r := range rows(name) {
			if r["source"] == "" || r["seen"] == "" {
				t.Errorf("%s, row %d has no source", name, i+1)
			}
		}
	}
}

// The overall sizes of symbols at the normal magnification, quiet zones included (GS1 General Specifications,
// from memory): EAN-13 37.29 x 25.93 mm, EAN-8 26.73 x 21.31 mm.
func TestNormalSize(t *testing.T) {
	for _, tt := range []struct {
		n    Number
		w, h scene.Um
	}{{"9520000000004", 37290, 25930}, {"12345670", 26730, 21310}, {"123456789012", 37290, 25930}} {
		s, err := Bars(tt.n, 0)
		if err != nil {
			t.Fatal(err)
		}
		if s.W != tt.w || s.H != tt.h {
			t.Errorf("%s is %v x %v, want %v x %v", tt.n, s.W, s.H, tt.w, tt.h)
		}
	}
}

func TestSizesRefused(t *testing.T) {
	n := Number("9520000000004")
	for _, tt := range []struct {
		x  scene.Um
		ok bool
	}{{263, false}, {264, true}, {660, true}, {661, false}} {
		if _, err := Bars(n, tt.x); (err == nil) != tt.ok {
			t.Errorf("a module of %v: %v", tt.x, err)
		}
	}
	if _, err := QR("https://fernhollow.example/", 395); err == nil || !strings.Contains(err.Error(), "0.396 mm") {
		t.Errorf("a small QR code: %v", err)
	}
}

func TestCheckURI(t *testing.T) {
	for _, tt := range []struct{ name, in, err string }{
		{"plain", "https://fernhollow.example/hay", ""},
		{"digital link", DigitalLink("9520000000004"), ""},
		{"with a lot", "https://fernhollow.example/01/09520000000004/10/0614", ""},
		{"wrong check digit", "https://fernhollow.example/01/09520000000005", "should be 4"},
		{"13 digits", "https://fernhollow.example/01/9520000000004", "14 digits"},
		{"no scheme", "fernhollow.example", "no web address"},
		{"not for telephones", "ftp://fernhollow.example", "no web address"},
		{"too long", "https://fernhollow.example/" + strings.Repeat("x", 150), "use a shorter one"},
	} {
		err := CheckURI(tt.in)
		if (err == nil) != (tt.err == "") || err != nil && !strings.Contains(err.Error(), tt.err) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

// Nothing is drawn into the quiet zones, or outside the symbol.
func TestQuietZones(t *testing.T) {
	for _, n := range []Number{"9520000000004", "12345670", "123456789012"} {
		s, err := Bars(n, 0)
		if err != nil {
			t.Fatal(err)
		}
		sp, _ := specOf(len(n))
		bars := s.items[0].(*scene.Path).Bounds()
		if left, right := bars.Left, s.W-bars.Right; left != scene.Um(sp.left)*s.X || right != scene.Um(sp.right)*s.X {
			t.Errorf("%s leaves %v and %v beside the bars", n, left, right)
		}
		for _, item := range s.items[1:] {
			if b := item.(*scene.Text).Bounds(); b.Left < 0 || b.Right > s.W || b.Bottom > s.H+50 {
				t.Errorf("%s: digits at %v stick out", n, b)
			}
		}
	}
}

// read draws symbols on a page and returns what an independent reader finds on the printed page.
func read(t *testing.T, dpi string, symbols ...*Symbol) string {
	outside.Tool(t, "zbarimg")
	page := scene.Scene{W: 120 * scene.Mm}
	y := 10 * scene.Mm
	for _, s := range symbols {
		page.Items = append(page.Items, s.At(10*scene.Mm, y)...)
		y += s.H + 10*scene.Mm
	}
	page.H = y
	var b bytes.Buffer
	if err := pdf.Write(&b, []scene.Scene{page}, pdf.Options{}); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "codes")
	if err := os.WriteFile(name+".pdf", b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	outside.Run(t, "pdftoppm", "-r", dpi, "-png", "-singlefile", name+".pdf", name)
	return outside.Run(t, "zbarimg", "-q", "-Sean8.enable", "-Supca.enable", name+".png")
}

// An independent decoder reads every digit in every place and set, at the normal and at the smallest size.
func TestDecoded(t *testing.T) {
	var symbols []*Symbol
	var want []string
	add := func(s *Symbol, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		symbols = append(symbols, s)
	}
	for first := range 10 { // each first digit has a pattern of sets of its own
		digits := string(rune('0'+first)) + "95200012345678"[first%3:first%3+11]
		n := Number(digits + string(rune(checkDigit(digits))))
		want = append(want, string(n))
		x := scene.Um(0)
		if first%2 == 1 {
			x = 264
		}
		add(Bars(n, x))
	}
	for _, n := range []Number{"123456789012", "12345670"} {
		want = append(want, string(n))
		add(Bars(n, 0))
	}
	for i, uri := range []string{"https://fernhollow.example/hay-fizz?lot=0614", DigitalLink("9520000000004"), "https://fernhollow.example/" + strings.Repeat("long", 25)} {
		want = append(want, uri)
		add(QR(uri, []scene.Um{0, 396, 500}[i]))
	}
	got := read(t, "400", symbols...)
	for _, w := range want {
		if !strings.Contains(got, ":"+strings.TrimPrefix(w, "0")+"\n") && !strings.Contains(got, ":"+w+"\n") { // an EAN-13 that begins with 0 is a UPC-A
			t.Errorf("%s was not read; read was\n%s", w, got)
		}
	}
}

func BenchmarkBars(b *testing.B) {
	for b.Loop() {
		if _, err := Bars("9520000000004", 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkQR(b *testing.B) {
	for b.Loop() {
		if _, err := QR("https://fernhollow.example/hay", 0); err != nil {
			b.Fatal(err)
		}
	}
}
