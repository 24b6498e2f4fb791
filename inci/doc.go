// Package inci knows what each substance is called and what the law says of
// the substance itself. It knows nothing of recipes or packs.
//
// A substance has a [formula.Key]: its name in the European Commission's
// ingredient inventory in capitals ("SODIUM BICARBONATE", "AQUA", "CI 77891"),
// the label name in capitals for an allergen that is not in the inventory
// ("ROSE KETONES"), else the maker's own words. Names come in three ways:
//
//	s, ok := inci.Find("sodium bicarbonate")       // an ingredient name
//	t, ok := inci.TradeMaterial("baking soda")     // what a maker buys
//	a, k, ok := inci.FindAllergen("dipentene")     // a line of a supplier's sheet
//
// and a key is printed by
//
//	inci.Name("AQUA", inci.US).Text                // "Water"
//	inci.Name("AQUA", inci.CA).Text                // "Aqua/Water/Eau"
//
// What the law allows of a substance are limits. They are asked for by substance
// and market, and each says which products it is about and from which day:
//
//	scopes, _ := inci.ProductScopes("hay fizz")    // skin, body, bath, solid
//	scopes = append(scopes, inci.RinseOff)         // stated by the maker
//	for _, l := range inci.LimitsOf("SODIUM BENZOATE", inci.EU) {
//		if l.Applies.Covers(scopes) && l.Duty.Binds(occasion) { ... }
//	}
//
// A limit counts some substances together (Sum) and as another form (Factor): the
// benzoic acid of sodium benzoate, the aluminium of mica. Outright bans are
// Prohibited, colours ColourLimits, and what an oil is known to hold Carries.
//
// Names are compared after folding: capitals, blanks, hyphens, apostrophes and
// accents do not count, except that a mark between two digits does ("C12-15").
//
// Everything is data: the rows of inci/data, embedded, each with its source and
// how that source was come by. The inventory is searched in place and the
// smaller tables are read on first use, so that a command that asks nothing
// pays nothing. Figures are fractions of one, exact.
package inci
