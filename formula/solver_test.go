package formula_test

import (
	"fmt"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/outside"

	"pgregory.net/rapid"
)

// stock is a piece that weighs materials straight in, so that the weights need
// no solving and the oracles share no code with Compose.
type stock struct {
	piece   *formula.Piece
	weights []exact.Rat
	total   exact.Rat
}

func drawStock(t *rapid.T, materials, parts int) stock {
	var s stock
	s.piece = piece()
	keys := []formula.Key{"A", "B", "C", "D", "E", "F"} // few, so that materials share them
	for i := range rapid.IntRange(1, materials).Draw(t, "materials") {
		m := drawMaterial(t, fmt.Sprint("m", i), parts, keys, false)
		w := exact.Frac(rapid.Int64Range(1, 5000).Draw(t, "decigrams"), 10)
		s.weights = append(s.weights, w)
		s.total = s.total.Add(w)
		s.piece.Lines = append(s.piece.Lines, line(m, w.String()+" g"))
	}
	return s
}

// question asks for the least value of the sum of coef[item][part] x share.
type question [][]exact.Rat

// ask makes a question: sign[name] for every part of that name, as a share of the piece.
func (s stock) ask(n formula.Names, sign map[int]int64) question {
	var q question
	for i, owner := range n.Owner {
		var row []exact.Rat
		for _, x := range owner {
			row = append(row, exact.Int(sign[x]).Mul(s.weights[i]))
		}
		q = append(q, row)
	}
	return q
}

// answers compares the package's own answers to every question with those of an
// oracle, which answers in grams.
func (s stock) answers(t *rapid.T, least func([]question) []exact.Rat, same func(got, want exact.Rat) bool) {
	c := compose(t, s.piece)
	keys, n := byKey(c)
	shares := c.Shares(n, formula.AsAdded)
	var asked []question
	var got []exact.Rat
	var what []string
	put := func(name string, x exact.Rat, sign map[int]int64) {
		what, got, asked = append(what, name), append(got, x), append(asked, s.ask(n, sign))
	}
	for x, k := range keys {
		put(fmt.Sprintf("least share of %s", k), shares[x].Min, map[int]int64{x: 1})
		put(fmt.Sprintf("greatest share of %s", k), shares[x].Max.Neg(), map[int]int64{x: -1})
		for z := range keys {
			if z != x {
				put(fmt.Sprintf("gap of %s to %s", k, keys[z]), c.Gap(n, formula.AsAdded, x, z).Quo(s.total), map[int]int64{x: 1, z: -1})
			}
		}
	}
	for i, want := range least(asked) {
		if !same(got[i], want.Quo(s.total)) {
			t.Errorf("%s: %v, the oracle says %v", what[i], got[i], want.Quo(s.total))
		}
	}
}

func TestBoundsAgreeWithVertices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStock(t, 4, 5)
		corners := make([][][]exact.Rat, len(s.weights))
		for i := range corners {
			corners[i] = vertices(s.piece.Lines[i].Material)
		}
		least := func(qs []question) []exact.Rat {
			out := make([]exact.Rat, len(qs))
			for j, q := range qs {
				for i := range corners { // the materials' ranges are separate
					var r reach
					for _, x := range corners[i] {
						var sum exact.Rat
						for p := range x {
							sum = sum.Add(q[i][p].Mul(x[p]))
						}
						r.see(sum)
					}
					out[j] = out[j].Add(r.lo)
				}
			}
			return out
		}
		s.answers(t, least, exact.Rat.Equal)
	})
}

// The solver sees the supplier's ranges as stated and the equation of each
// material, nothing else: it knows neither tightening nor greedy filling.
func TestBoundsAgreeWithSolver(t *testing.T) {
	solver := outside.Tool(t, "glpsol")
	dir := t.TempDir()
	off := exact.Frac(1, 10_000_000)
	rapid.Check(t, func(t *rapid.T) {
		s := drawStock(t, 4, 5)
		least := func(qs []question) []exact.Rat { return solve(t, solver, dir, s, qs) }
		s.answers(t, least, func(got, want exact.Rat) bool {
			return got.Sub(want).Less(off) && want.Sub(got).Less(off)
		})
	})
}

// solve has glpsol answer all questions at once: each has variables of its own,
// so the least sum of all is the least of each.
func solve(t *rapid.T, solver, dir string, s stock, qs []question) []exact.Rat {
	var goal, rows, bounds strings.Builder
	for j, q := range qs {
		fmt.Fprintf(&goal, " + z%d\n", j)
		fmt.Fprintf(&rows, " z%d", j)
		fmt.Fprintf(&bounds, " z%d free\n", j)
		var sums strings.Builder
		for i, row := range q {
			for p, coef := range row {
				v := fmt.Sprintf("x%d_%d_%d", j, i, p)
				r := s.piece.Lines[i].Material.Parts[p].Range
				fmt.Fprintf(&rows, " %s %s %s\n", sign(coef.Neg()), magnitude(coef), v)
				fmt.Fprintf(&sums, " + %s\n", v)
				fmt.Fprintf(&bounds, " %s <= %s <= %s\n", r.Lo, v, r.Hi)
			}
			sums.WriteString(" = 1\n")
		}
		rows.WriteString(" = 0\n" + sums.String())
	}
	model, result := filepath.Join(dir, "model.lp"), filepath.Join(dir, "result")
	text := "Minimize\n obj:\n" + goal.String() + "Subject To\n" + rows.String() + "Bounds\n" + bounds.String() + "End\n"
	if err := os.WriteFile(model, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := runSolver(solver, model, result); err != nil {
		t.Fatalf("the solver failed: %v\n%s\n%s", err, out, text)
	}
	return readResult(t, result, len(qs))
}

func sign(x exact.Rat) string {
	if x.Sign() < 0 {
		return "-"
	}
	return "+"
}

func magnitude(x exact.Rat) string { return exact.Max(x, x.Neg()).String() }

// readResult reads the values of the first n columns of a plain-text basic
// solution, and insists that it is optimal.
func readResult(t *rapid.T, file string, n int) []exact.Rat {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]exact.Rat, n)
	read, optimal := 0, false
	for text := range strings.Lines(string(data)) {
		f := strings.Fields(text)
		switch {
		case len(f) == 7 && f[0] == "s":
			optimal = f[4] == "f" && f[5] == "f" // primal and dual feasible
		case len(f) == 5 && f[0] == "j":
			at, err := strconv.Atoi(f[1])
			if err != nil || at > n {
				continue
			}
			v, ok := new(big.Rat).SetString(f[3])
			if !ok {
				t.Fatalf("the solver wrote %q", text)
			}
			out[at-1] = exact.FromBig(v)
			read++
		}
	}
	if !optimal || read != n {
		t.Fatalf("the solver did not solve the model: %d of %d values\n%s", read, n, data)
	}
	return out
}

// runSolver keeps the solver's preprocessor off: it takes a bound as met within a
// thousandth, which is more than a threshold for allergens.
func runSolver(solver, model, result string) (string, error) {
	out, err := exec.Command(solver, "--lp", model, "--nopresol", "-w", result).CombinedOutput()
	return string(out), err
}
