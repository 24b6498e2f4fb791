package inci

import (
	"fmt"
	"strings"
	"sync"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
)

// conversion names a factor: a substance and the form that a limit counts it as.
type conversion struct {
	key  formula.Key
	form string
}

type converted struct {
	formula string
	known   bool
	factor  exact.Rat // grams of the form per gram of the substance, if known
	most    exact.Rat // an upper bound of it
	source  finding.Citation
}

// conversions holds the factors of molar-masses.csv, computed from the formulas there.
var conversions = sync.OnceValue(func() map[conversion]converted {
	m := map[conversion]converted{}
	for _, r := range readTable(molarMassesText).rows {
		c := converted{formula: r.get("formula"), source: r.cite()}
		if c.formula != "" {
			count, _ := r.rat("count")
			c.known = true
			c.factor = mustMass(r.get("form_formula")).Mul(count).Quo(mustMass(c.formula))
			c.most = c.factor
		} else {
			c.most = mostOf(r.get("most"))
		}
		m[conversion{Canonical(formula.Key(r.get("key"))), r.get("form")}] = c
	}
	return m
})

// formBounds holds the bound of each form for substances that have no row of their own.
var formBounds = sync.OnceValue(func() map[string]exact.Rat {
	m := map[string]exact.Rat{}
	for _, r := range readTable(molarMassesText).rows {
		if r.get("key") == "" {
			m[r.get("form")] = mostOf(r.get("most"))
		}
	}
	return m
})

// mostOf reads a bound: a number, or "n FORM in FORMULA" for the share of a form in the richest compound.
func mostOf(text string) exact.Rat {
	var n int64
	var form, whole string
	if c, err := fmt.Sscanf(text, "%d %s in %s", &n, &form, &whole); err == nil && c == 3 {
		return mustMass(form).Mul(exact.Int(n)).Quo(mustMass(whole))
	}
	return exact.Must(text)
}

func mustMass(text string) exact.Rat {
	m, err := MolarMass(text)
	if err != nil {
		panic("inci: " + err.Error())
	}
	return m
}

var atomicWeights = sync.OnceValue(func() map[string]exact.Rat {
	m := map[string]exact.Rat{}
	for _, r := range readTable(atomicWeightsText).rows {
		m[r.get("element")], _ = r.rat("weight")
	}
	return m
})

// MolarMass returns the molar mass of a molecular formula in grams per mole, from the abridged standard
// atomic weights of 2021. Groups stand in brackets and water of crystals behind a point, as in
// "KAl(SO4)2.12H2O". The error tells an element or a sign that is not known.
func MolarMass(text string) (exact.Rat, error) {
	var sum exact.Rat
	for part := range strings.SplitSeq(text, ".") {
		times, rest := leadingCount(part)
		mass, rest, err := groupMass(rest)
		if err == nil && rest != "" {
			err = fmt.Errorf("%q is left over", rest)
		}
		if err != nil {
			return exact.Rat{}, fmt.Errorf("formula %q: %w", text, err)
		}
		sum = sum.Add(mass.Mul(exact.Int(times)))
	}
	return sum, nil
}

// groupMass reads elements and bracketed groups up to a closing bracket or the end.
func groupMass(s string) (mass exact.Rat, rest string, err error) {
	read := false
	for s != "" && s[0] != ')' {
		var unit exact.Rat
		switch c := s[0]; {
		case c == '(':
			if unit, s, err = groupMass(s[1:]); err != nil {
				return mass, s, err
			}
			if s == "" {
				return mass, s, fmt.Errorf("a bracket is not closed")
			}
			s = s[1:]
		case c >= 'A' && c <= 'Z':
			n := 1
			for n < len(s) && s[n] >= 'a' && s[n] <= 'z' {
				n++
			}
			w, ok := atomicWeights()[s[:n]]
			if !ok {
				return mass, s, fmt.Errorf("no atomic weight of %q", s[:n])
			}
			unit, s = w, s[n:]
		default:
			return mass, s, fmt.Errorf("%q cannot be read", s)
		}
		var times int64
		times, s = leadingCount(s)
		mass, read = mass.Add(unit.Mul(exact.Int(times))), true
	}
	if !read {
		return mass, s, fmt.Errorf("an empty group")
	}
	return mass, s, nil
}

// leadingCount cuts a number off the front; no number is 1.
func leadingCount(s string) (n int64, rest string) {
	i := 0
	for i < len(s) && isDigit(s[i]) {
		n, i = n*10+int64(s[i]-'0'), i+1
	}
	if i == 0 {
		return 1, s
	}
	return n, s[i:]
}
