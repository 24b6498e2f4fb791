package label

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelwright/formula"
	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
)

var (
	advice     = regexp.MustCompile(`^use at most (.*) in a piece; now: `)
	dosed      = regexp.MustCompile(`([0-9.]+) g of (material [0-9])`)
	entryNamed = regexp.MustCompile(`; (.*? entry .*?) allows`)
)

// limited is a material of a piece, and how much of it there is.
type limited struct {
	material *formula.Material
	grams    exact.Rat
}

// The amounts that a finding about a limit suggests, put into the piece, remove
// the finding, and so does any amount below them. Where the piece is filled up
// with its base to the weight it had, no other finding appears either.
func TestSuggestedAmountsPass(t *testing.T) {
	kinds := []struct {
		name     string
		exposure Exposure
	}{{"bath fizz", RinseOff}, {"body balm", LeaveOn}, {"lip balm", LeaveOn}, {"shampoo bar", RinseOff}, {"face cream", LeaveOn}}
	days := []date.Occasion{today, fresh("2027-01-02")}
	suggested := 0
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(inci.Markets).Draw(t, "market")
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		o := rapid.SampledFrom(days).Draw(t, "day")
		use, _ := kindsOf(&Product{Type: kind.name, Exposure: kind.exposure})
		limits := slices.DeleteFunc(slices.Clone(inci.Limits(m)), func(l *inci.Limit) bool {
			return !l.HasMax || !use.in(&l.Applies) || !l.Duty.Binds(o) || len(l.Keys) == 0
		})
		if len(limits) == 0 {
			t.Skip("no limits")
		}
		l := rapid.SampledFrom(limits).Draw(t, "limit")
		keys := l.Keys
		if l.Sum != nil {
			keys = l.Sum
		}
		var all []limited
		for i := range rapid.IntRange(1, 3).Draw(t, "materials") {
			k := rapid.SampledFrom(keys).Draw(t, "key")
			own := pure("material "+string(rune('1'+i)), k, "other")
			if rapid.Bool().Draw(t, "inside a blend") {
				lo := rapid.IntRange(0, 80).Draw(t, "least")
				share := formula.Interval{Lo: exact.Int(int64(lo)).Quo(hundred), Hi: exact.Int(int64(lo + rapid.IntRange(1, 20).Draw(t, "more"))).Quo(hundred)}
				own = blend(own.Name, "other", formula.Part{Key: k, Range: share}, part("SODIUM BICARBONATE", "0-100"))
			}
			all = append(all, limited{own, exact.Int(int64(rapid.IntRange(1, 60_000).Draw(t, "mg"))).Quo(exact.Int(1000))})
		}
		judge := func(fill bool, amounts map[string]exact.Rat) finding.List {
			lines := []formula.Line{weigh(of("SODIUM BICARBONATE"), "200")}
			for _, a := range all {
				g, changed := amounts[a.material.Name]
				if !changed {
					g = a.grams
				} else if fill {
					lines[0].Amount.Value = lines[0].Amount.Value.Add(a.grams).Sub(g)
				}
				if g.Sign() > 0 {
					lines = append(lines, formula.Line{Text: g.String() + " g", Amount: formula.Amount{Value: g}, Material: a.material})
				}
			}
			p := rinseOff(lines...)
			p.Type, p.Exposure = kind.name, kind.exposure
			return declareIn(m, p, o).Findings
		}
		before := judge(false, nil)
		for _, f := range before {
			text := advice.FindStringSubmatch(f.Cure)
			if text == nil {
				continue
			}
			suggested++
			amounts := map[string]exact.Rat{}
			for _, g := range dosed.FindAllStringSubmatch(text[1], -1) {
				amounts[g[2]] = exact.Must(g[1])
			}
			below := exact.Int(int64(rapid.IntRange(0, 1000).Draw(t, "below"))).Quo(exact.Int(1000))
			for _, part := range []exact.Rat{exact.Int(1), below} {
				less := map[string]exact.Rat{}
				for name, g := range amounts {
					less[name] = g.Mul(part)
				}
				if again := meeting(judge(false, less), f); again != nil {
					t.Fatalf("%s\nwith %s of %s: %s", f.Line(), part, text[1], again.Line())
				}
				for _, n := range judge(true, less) {
					// What a row says besides its limit is said where the limit is kept, and other amounts stand in another order.
					if n.Severity == finding.Note || n.Rule == "list.order" {
						continue
					}
					if meeting(before, n) == nil || about(n) == about(f) {
						t.Fatalf("%s\nwith %s of %s and the piece filled up, new: %s %s", f.Line(), part, text[1], n.Rule, n.Line())
					}
				}
			}
		}
	})
	if suggested == 0 {
		t.Error("no finding suggested an amount")
	}
}

// about tells findings of limits apart: by rule and entry, and by the substance
// where a row is about several that are not added up.
func about(f finding.Finding) string {
	s := string(f.Rule)
	if e := entryNamed.FindStringSubmatch(f.Message); e != nil {
		entry := e[1]
		name, _, _ := strings.Cut(f.Message, " reaches ")
		if strings.HasPrefix(name, "the sum of ") {
			entry, _, _ = strings.Cut(entry, " (") // one sum may stand in two rows of an entry
		}
		s += " " + entry + " " + name
	}
	return s
}

func meeting(list finding.List, f finding.Finding) *finding.Finding {
	for i := range list {
		if about(list[i]) == about(f) {
			return &list[i]
		}
	}
	return nil
}
