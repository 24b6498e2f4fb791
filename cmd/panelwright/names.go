package main

import (
	"fmt"
	"strings"

	"panelwright/formula"
	"panelwright/inci"
)

// names looks an ingredient up: matches, what each market prints, functions and
// listings.
func names(c *call) (int, error) {
	query := strings.Join(c.args, " ")
	if query == "" {
		return exitFailed, usageError("names wants a name, part of a name, or a CAS number")
	}
	matches := inci.Search(query, mostMatches+1)
	if len(matches) == 0 {
		fmt.Fprintf(c.out, "NOT FOUND: nothing is known as %q\n", query)
		if near := inci.Suggest(query, 5); len(near) > 0 {
			fmt.Fprintf(c.out, "near it: %s\n", strings.Join(near, ", "))
		}
		return exitErrors, nil
	}
	if len(matches) > mostMatches {
		matches = matches[:mostMatches]
		fmt.Fprintf(c.out, "FOUND MORE THAN %d: here the best; more letters find fewer\n", mostMatches)
	} else {
		fmt.Fprintf(c.out, "FOUND %d\n", len(matches))
	}
	rows := [][]string{{"name", "kind", "found by", "ingredient"}}
	var keys []formula.Key
	for _, m := range matches {
		rows = append(rows, []string{short(m.Name), m.Kind.String(), m.Via, short(inci.Readable(string(m.Key)))})
		if len(keys) < 3 && !contains(keys, m.Key) {
			keys = append(keys, m.Key)
		}
	}
	if err := table(c.out, rows); err != nil {
		return exitFailed, err
	}
	for _, k := range keys {
		if err := c.substance(k); err != nil {
			return exitFailed, err
		}
	}
	return exitClean, nil
}

// mostMatches is how many matches are shown.
const mostMatches = 12

// short cuts a name that would push the columns of a table off the screen. Some
// ferments have names of 200 letters.
func short(name string) string {
	const most = 56
	if r := []rune(name); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return name
}

func contains(keys []formula.Key, k formula.Key) bool {
	for _, x := range keys {
		if x == k {
			return true
		}
	}
	return false
}

// substance prints what is known of one substance.
func (c *call) substance(k formula.Key) error {
	fmt.Fprintf(c.out, "\n%s\n", inci.Readable(string(k)))
	var rows [][]string
	if s, ok := inci.Find(string(k)); ok {
		for _, r := range [][2]string{{"CAS", s.CAS}, {"EC", s.EC}, {"functions", strings.ReplaceAll(s.Functions, ";", ", ")}} {
			if r[1] != "" {
				rows = append(rows, []string{"  " + r[0], r[1]})
			}
		}
	}
	for _, m := range inci.Markets {
		p := inci.Name(k, m)
		text := p.Text
		if !p.OK {
			text = "no name: " + p.Why
		}
		if p.Source.Unverified() {
			text += " (unverified)"
		}
		rows = append(rows, []string{"  printed in " + string(m), text})
	}
	for _, a := range inci.AllergenOf(k) {
		rows = append(rows, []string{"  fragrance allergen", fmt.Sprintf("entry %s, named as %s above %s %% (leave-on) or %s %% (rinse-off)",
			a.Entry, a.Name, a.LeaveOn.Mul(hundred), a.RinseOff.Mul(hundred))})
	}
	if col, ok := inci.Colourant(k); ok {
		if col.AnnexIV != "" {
			rows = append(rows, []string{"  colour, EU", strings.TrimSuffix("Annex IV "+col.AnnexIV+"; "+col.RestrictionText, "; ")})
		}
		for _, us := range col.US {
			if us.Name == "" {
				continue
			}
			text := us.Name + ", 21 CFR " + us.Section + ": " + us.Uses
			if us.Certified {
				text += "; only from certified batches"
			}
			rows = append(rows, []string{"  colour, US", text})
		}
	}
	seen := map[string]bool{}
	for _, m := range inci.Markets {
		for _, b := range inci.Prohibited(k, m) {
			line := b.Ref + " " + b.Substance
			if b.Condition != "" {
				line += " (" + b.Condition + ")"
			}
			if !seen[line] {
				seen[line] = true
				rows = append(rows, []string{"  prohibited list", line})
			}
		}
	}
	return table(c.out, rows)
}
