package label

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelwright/formula"
	"panelwright/inci"
)

// One label may serve several markets. It then carries the union of what they
// ask for: every name that one of them wants, in an order that each of them
// accepts. Where no such order or name exists the label is refused with the
// reason, and two labels are needed.

// token is one name on a joint list: a substance, the scent as a whole, or a
// listed allergen. Markets print it by different names.
type token struct {
	id    string
	texts []string // distinct, in the order of the declarations
}

// Conflict says why one label cannot serve several markets.
type Conflict struct{ Reason string }

func (c *Conflict) Error() string { return c.Reason }

// JointList returns one list of names for all the declarations of a product, or
// a *Conflict. For a single declaration it is that declaration's own list.
func JointList(ds []*Declaration) ([]string, error) {
	if len(ds) == 1 {
		names := make([]string, len(ds[0].Entries))
		for i, e := range ds[0].Entries {
			names[i] = e.Name
		}
		return names, nil
	}
	j := joint{ds: ds}
	j.gather()
	var why []objection
	for _, seq := range j.candidates() {
		o := j.objection(seq)
		if o == nil {
			return j.names(seq), nil
		}
		why = append(why, *o)
	}
	return nil, conflict(why)
}

// objection is what a market has against an order.
type objection struct {
	market inci.Market
	reason string
}

// conflict tells both sides: what one market wants, and what another has
// against it.
func conflict(why []objection) *Conflict {
	first := why[0]
	c := &Conflict{first.market.Title() + ": " + first.reason}
	if i := slices.IndexFunc(why, func(o objection) bool { return o.market != first.market }); i > 0 {
		c.Reason += "; but " + why[i].market.Title() + ": " + why[i].reason
	}
	return c
}

type joint struct {
	ds    []*Declaration
	toks  map[string]*token
	lists [][]string           // by declaration: token ids in its own order
	named map[formula.Key]bool // substances that some market names by themselves
}

// gather breaks every list into tokens, the finest the markets share.
func (j *joint) gather() {
	j.toks = map[string]*token{}
	j.named = map[formula.Key]bool{}
	for _, d := range j.ds {
		for _, e := range d.Entries {
			if e.Kind != Fragrance {
				for _, k := range e.Keys {
					j.named[k] = true
				}
			}
		}
	}
	for _, d := range j.ds {
		var list []string
		for _, e := range d.Entries {
			for _, id := range j.tokens(d, e) {
				t := j.toks[id]
				if t == nil {
					t = &token{id: id}
					j.toks[id] = t
				}
				text := e.Name
				if k, named := strings.CutPrefix(id, "is "); named && e.Kind == Fragrance {
					// All of this scent is named elsewhere: here it takes the names of this market.
					text = inci.Name(formula.Key(k), d.Market).Text
				}
				if text != "" && !slices.Contains(t.texts, text) {
					t.texts = append(t.texts, text)
				}
				list = append(list, id)
			}
		}
		j.lists = append(j.lists, list)
	}
}

// tokens returns the tokens of an entry of d. A scent whose every part another
// market names by itself dissolves into those names, unless it must be called
// by the word for a scent here.
func (j *joint) tokens(d *Declaration, e Entry) []string {
	switch {
	case e.Kind == Fragrance:
		only, _ := d.Rules.ParfumOnly()
		var own []string
		for _, k := range e.Keys {
			if only || !j.named[k] {
				return []string{"scent " + string(scentKey(e))}
			}
			own = append(own, "is "+string(k))
		}
		return own
	case e.allergen != nil && e.index < 0:
		return []string{"allergen " + e.allergen.Entry + " " + e.Name}
	case e.allergen != nil:
		// Named by the allergen's prescribed name; one token for the entry, so
		// that a market that lists the substance itself meets it by its keys.
		if len(e.Keys) == 1 {
			return []string{"is " + string(e.Keys[0])}
		}
		return []string{"allergen " + e.allergen.Entry + " " + e.Name}
	}
	ids := make([]string, len(e.Keys))
	for i, k := range e.Keys {
		ids[i] = "is " + string(k)
	}
	return ids
}

func scentKey(e Entry) formula.Key {
	if slices.Contains(e.Keys, aroma) {
		return aroma
	}
	return parfum
}

// candidates are orders worth trying: each market's own with the names that
// only others want put where those have them, and each with the scent last.
func (j *joint) candidates() [][]string {
	var out [][]string
	for i := range j.lists {
		seq := slices.Clone(j.lists[i])
		for k := range j.lists {
			seq = merge(seq, j.lists[k])
		}
		out = append(out, seq)
	}
	for _, seq := range out[:len(out):len(out)] {
		var body, scent []string
		for _, id := range seq {
			if strings.HasPrefix(id, "scent ") {
				scent = append(scent, id)
			} else {
				body = append(body, id)
			}
		}
		out = append(out, append(body, scent...))
	}
	return out
}

// merge puts the tokens of list that seq lacks after the token they follow in
// list.
func merge(seq, list []string) []string {
	for i, id := range list {
		if slices.Contains(seq, id) {
			continue
		}
		at := 0
		if i > 0 {
			at = slices.Index(seq, list[i-1]) + 1
		}
		seq = slices.Insert(seq, at, id)
	}
	return seq
}

// objection returns what the first market that does not accept the order has
// against it, or nil.
func (j *joint) objection(seq []string) *objection {
	for i, d := range j.ds {
		pos := map[string]int{}
		for n, id := range seq {
			pos[id] = n
		}
		entries := make([]Entry, 0, len(d.Entries))
		place := make([]int, 0, len(d.Entries))
		next := 0
		for _, e := range d.Entries {
			first := len(seq)
			for range j.tokens(d, e) {
				first = min(first, pos[j.lists[i][next]])
				next++
			}
			entries = append(entries, e)
			place = append(place, first)
		}
		idx := make([]int, len(entries))
		for n := range idx {
			idx[n] = n
		}
		slices.SortFunc(idx, func(a, b int) int { return cmp.Compare(place[a], place[b]) })
		sorted := make([]Entry, len(entries))
		for n, k := range idx {
			sorted[n] = entries[k]
		}
		if why := d.objects(sorted); why != "" {
			return &objection{d.Market, why}
		}
	}
	return nil
}

// objects says why the market does not accept its entries in this order, or "".
func (d *Declaration) objects(seq []Entry) string {
	last := len(seq) - 1
	for last >= 0 && seq[last].Kind == Fragrance && d.Rules.ScentLast {
		last--
	}
	for last >= 0 && seq[last].Kind == Colourant && d.Rules.ColoursLast {
		last--
	}
	var small, above *Entry
	for i := range seq {
		e := &seq[i]
		switch {
		case i > last:
		case e.Kind == Fragrance && d.Rules.ScentLast:
			return fmt.Sprintf("%s must stand at the end of the list", e.Name)
		case d.Rules.Free(e.Share.Typical):
			if small == nil {
				small = e
			}
		case small != nil:
			return fmt.Sprintf("%s (%s %%) must stand before %s, which is inside the 1 %% rule", e.Name, Show(e.Share).Typical, small.Name)
		case above != nil && above.Share.Typical.Less(e.Share.Typical):
			return fmt.Sprintf("%s (%s %%) must stand before %s (%s %%)", e.Name, Show(e.Share).Typical, above.Name, Show(above.Share).Typical)
		default:
			above = e
		}
	}
	return ""
}

// names prints the tokens, joining the markets' names for one thing.
func (j *joint) names(seq []string) []string {
	var out []string
	for _, id := range seq {
		if t := j.toks[id]; len(t.texts) > 0 {
			out = append(out, joinNames(t.texts))
		}
	}
	return slices.Compact(out)
}

// joinNames joins several markets' names of one thing: one that holds the
// others stands alone ("Aqua/Water/Eau"; "Butyrospermum Parkii (Shea) Butter"
// holds the name without the English word), else the rest follow in brackets.
func joinNames(texts []string) string {
	best := texts[0]
	for _, t := range texts[1:] {
		switch {
		case holds(best, t):
		case holds(t, best):
			best = t
		default:
			best += " (" + t + ")"
		}
	}
	return best
}

func holds(long, short string) bool {
	if long == short || slices.Contains(strings.Split(long, "/"), short) {
		return true
	}
	bare := long
	for {
		a := strings.Index(bare, " (")
		b := strings.Index(bare, ")")
		if a < 0 || b < a {
			break
		}
		if bare[a+2:b] == short {
			return true
		}
		bare = bare[:a] + bare[b+1:]
	}
	return strings.EqualFold(bare, short)
}

// marketsTitle joins the names of markets for a message.
func marketsTitle(ms []inci.Market) string {
	var names []string
	for _, m := range ms {
		names = append(names, m.Inside())
	}
	if n := len(names) - 1; n > 1 {
		names = []string{strings.Join(names[:n], ", "), names[n]}
	}
	return strings.Join(names, " and ")
}
