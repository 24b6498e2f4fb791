// Package weigh judges whether a batch as weighed bears out the net quantity
// that its packs state, and shows the arithmetic line by line.
//
//	w := weigh.Weighing{Figures: figures, Lot: 60, Division: exact.Must("0.1")}
//	net, _ := rules.Net(q, 1, market.NetOptions{})
//	r := weigh.Judge(rules, weigh.Claim{Quantity: q, Net: net}, w)
//	r.Verdict               // HOLDS, DOES NOT HOLD, NOT ENOUGH PIECES ...
//	r.Checks                // each rule with its lines and its source
//	r.Largest.Text          // what may honestly be stated, as printed
//
// The rules are the market's: see market.Method. The EU, Great Britain and
// Northern Ireland ask for an average at or above the statement, few packs short
// by more than the tolerable negative error, and none short by more than twice
// that. The United States and Canada are judged as their inspectors judge a
// lot, with the benefit that a sample gets; where a lot passes only by that
// benefit, the result says so.
//
// No piece is dropped. What looks like a slip of the pen is named, and judged
// with the rest.
//
// Numbers are exact. A rule with a standard deviation in it is decided by
// comparing squares; roots are taken only to print them. The one exception is
// the fit of weighings over weeks (Dry), which is numerical and says how
// uncertain it is.
package weigh
