package label

import (
	"fmt"
	"slices"

	"panelwright/formula"
	"panelwright/formula/exact"
	"panelwright/inci"
)

// Estimate gives an essential oil that has no sheet yet the constituents that
// are published for oils of its kind, each marked as estimated. Where several
// sources differ the range spans them all. A figure that is not published stays
// unknown: it is not put at zero, and the missing sheet is still an error.
// A material with a figure or a list of its supplier's is left as it is.
func Estimate(m *formula.Material) {
	if len(m.Constituents) > 0 || len(sheet(m).Covers) > 0 || len(m.Parts) != 1 || !sheet(m).Scents() {
		return
	}
	for _, e := range inci.Estimates(m.Parts[0].Key) {
		if !e.HasHigh {
			continue
		}
		i := slices.IndexFunc(m.Constituents, func(c formula.Constituent) bool { return c.Key == e.Constituent })
		if i < 0 {
			i = len(m.Constituents)
			m.Constituents = append(m.Constituents, formula.Constituent{Key: e.Constituent, Estimated: true,
				Range: formula.Interval{Lo: e.Low, Hi: e.High}, Pos: m.Pos, Source: e.Source})
		}
		c := &m.Constituents[i]
		c.Range.Lo, c.Range.Hi = exact.Min(c.Range.Lo, e.Low), exact.Max(c.Range.Hi, e.High)
		c.Typical = c.Range.Lo.Add(c.Range.Hi).Quo(exact.Int(2))
		c.Text = fmt.Sprintf("%s: %s to %s %%, published for %s", inci.Readable(string(c.Key)), Percent(c.Range.Lo, 2, exact.Down), Percent(c.Range.Hi, 2, exact.Up), e.Oil)
	}
}
