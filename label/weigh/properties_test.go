package weigh

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula/exact"
	"panelwright/formula/outside"
	"panelwright/inci"
	"panelwright/label/market"
)

// drawn draws a weighing around 160 g in tenths of a gram, often near the edge.
func drawn(t *rapid.T) Weighing {
	n := rapid.IntRange(1, 70).Draw(t, "pieces")
	centre := rapid.Int64Range(1580, 1620).Draw(t, "centre")
	spread := rapid.SampledFrom([]int64{0, 3, 20, 90}).Draw(t, "spread")
	w := Weighing{Division: exact.Must("0.1")}
	for range n {
		w.Figures = append(w.Figures, Figure{Amount: exact.Frac(centre+rapid.Int64Range(-spread, spread).Draw(t, "off"), 10)})
	}
	w.Lot = rapid.SampledFrom([]int{0, n, n + 30, 300, 5000}).Draw(t, "lot")
	if w.Lot < n {
		w.Lot = 0
	}
	return w
}

func add(w Weighing, grams exact.Rat, only int) Weighing {
	w.Figures = slices.Clone(w.Figures)
	for i := range w.Figures {
		if only < 0 || i == only {
			w.Figures[i].Amount = w.Figures[i].Amount.Add(grams)
		}
	}
	return w
}

// More in one piece never spoils a batch where the mean itself is judged, and
// more in every piece never does anywhere. (More in one piece can spoil it where
// an inspector's limit grows with the spread: the spread may shrink.)
func TestMoreNeverSpoils(t *testing.T) {
	claims := map[inci.Market]Claim{}
	for _, m := range inci.Markets {
		claims[m] = claim(t, m, "160 g")
	}
	rapid.Check(t, func(t *rapid.T) {
		w := drawn(t)
		more := exact.Frac(rapid.Int64Range(0, 100).Draw(t, "more"), 10)
		one := rapid.IntRange(0, len(w.Figures)-1).Draw(t, "piece")
		for _, m := range inci.Markets {
			before := Judge(market.For(m), claims[m], w).Verdict
			if after := Judge(market.For(m), claims[m], add(w, more, -1)).Verdict; before == Holds && after != Holds {
				t.Fatalf("%s: %s g more in every piece: %v", m, more, after)
			}
			if market.For(m).Method() != market.ThreeRules {
				continue
			}
			if after := Judge(market.For(m), claims[m], add(w, more, one)).Verdict; before == Holds && after != Holds {
				t.Fatalf("%s: %s g more in piece %d: %v", m, more, one+1, after)
			}
		}
	})
}

// The order in which pieces were weighed decides nothing, and what is largest
// bears its own judgement.
func TestOrderAndLargest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawn(t)
		shuffled := w
		shuffled.Figures = slices.Clone(w.Figures)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		r.Shuffle(len(w.Figures), func(i, j int) {
			shuffled.Figures[i], shuffled.Figures[j] = shuffled.Figures[j], shuffled.Figures[i]
		})
		for _, m := range inci.Markets {
			rules := market.For(m)
			c := statedAs(rules, "160 g")
			a, b := Judge(rules, c, w), Judge(rules, c, shuffled)
			if a.Verdict != b.Verdict || a.Largest.Text != b.Largest.Text || !a.Sample.Variance.Equal(b.Sample.Variance) {
				t.Fatalf("%s: %v and %v", m, a.Verdict, b.Verdict)
			}
			if a.Largest.Text == "" {
				if !slices.ContainsFunc(a.Checks, func(c Check) bool { return c.Outcome == Undecided }) {
					t.Fatalf("%s: nothing may be stated", m)
				}
				continue
			}
			best := Judge(rules, statedAs(rules, a.Largest.Amount.String()+" g"), w)
			if best.Verdict != Holds {
				t.Fatalf("%s: the largest statement %s does not hold: %v %v", m, a.Largest.Text, best.Verdict, best.Checks)
			}
		}
	})
}

func statedAs(rules *market.Rules, text string) Claim {
	q, err := Stated(text)
	if err != nil {
		panic(err)
	}
	net, _ := rules.Net(q, 1, market.NetOptions{})
	return Claim{Quantity: q, Net: net}
}

// The mean and s of GNU datamash agree with ours to the digits it prints.
func TestStatisticsAgainstDatamash(t *testing.T) {
	tool := outside.Tool(t, "datamash")
	for name, text := range map[string]string{
		"thirty":    thirty,
		"far apart": "0.1 1000 12.34 99999 5",
		"a batch":   "160.2 159.8 161 160.4 159.9 160.3 160.6 161.2 160.1 159.5 160.7 160.9",
	} {
		w := typed(t, text)
		s := w.Sample()
		cmd := exec.Command(tool, "-R", "8", "mean", "1", "sstdev", "1", "min", "1", "max", "1", "sum", "1")
		cmd.Stdin = strings.NewReader(strings.Join(strings.Fields(text), "\n") + "\n")
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		want := strings.Fields(string(out))
		got := []string{s.Mean.Decimal(8, exact.Nearest).StringFixed(8), Root(s.Variance, 8)}
		for i := range got {
			if got[i] != want[i] {
				t.Errorf("%s: %s, datamash says %s", name, got[i], want[i])
			}
		}
		for i, x := range []exact.Rat{s.Lightest, s.Heaviest, s.Sum} {
			if got := x.Decimal(8, exact.Nearest).StringFixed(8); got != want[i+2] {
				t.Errorf("%s: %s, datamash says %s", name, got, want[i+2])
			}
		}
	}
}

// Floats are for the fit of drying, and decide nothing else.
func TestFloatsOnlyInDrying(t *testing.T) {
	names, err := filepath.Glob("*.go")
	if err != nil || len(names) < 10 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if has := strings.Contains(string(data), "float64"); has != (name == "drying.go") && !strings.HasSuffix(name, "_test.go") {
			t.Errorf("%s: float64: %v", name, has)
		}
	}
}

func TestMarshal(t *testing.T) {
	data, err := json.Marshal([]any{Holds, DoesNotHold, Fails, Coarse})
	if want := `["HOLDS","DOES NOT HOLD","fails","needs a finer scale"]`; err != nil || string(data) != want {
		t.Errorf("%s, %v", data, err)
	}
}

// BenchmarkJudge judges 10,000 pieces in five markets.
func BenchmarkJudge(b *testing.B) {
	for _, unit := range []string{"g", "oz"} {
		b.Run(unit, func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 2))
			var text strings.Builder
			for range 10_000 {
				x := 1600 + r.NormFloat64()*12
				if unit == "oz" {
					x /= 28.349523125
				}
				fmt.Fprintf(&text, "%.3f %s\n", x/10, unit)
			}
			ws, found := Read("w.csv", []byte(text.String()), "g")
			if len(found) > 0 {
				b.Fatal(found[0].Line())
			}
			var rules []*market.Rules
			var claims []Claim
			for _, m := range inci.Markets {
				rules, claims = append(rules, market.For(m)), append(claims, claim(b, m, "159 g"))
			}
			for b.Loop() {
				for _, res := range JudgeEach(rules, claims, ws[0]) {
					if res.Sample.N != 10_000 {
						b.Fatal(res)
					}
				}
			}
		})
	}
}
