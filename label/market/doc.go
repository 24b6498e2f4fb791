// Package market holds what the law of five markets says of the pack: how the
// list of ingredients is ordered, how the net quantity is written, how high its
// letters must be, what has to stand where, who must be named and in which
// languages.
//
// The law is data. Every figure stands in a table in the folder data, with its
// source and with how that source was seen: "yes" for read, "secondary" for
// quoted by another text, "memory" for not seen, "practice" for common practice
// without a source. The functions here only read the tables; each file is named
// for what it judges. To correct a figure, correct its row; to add a market, add
// its rows to every table.
//
//	r := market.For(inci.US)
//	pack, err := market.ParseBody("ball 65 mm")
//	panel := pack.PDP(inci.US)                        // 40 % of the surface: 8.2 sq in
//	height, err := r.NetHeight(q, panel.Low, panel.High, false)
//	net, findings := r.Net(q, 1, market.NetOptions{}) // "Net Wt 5.64 oz (160 g)"
//
// Numbers are exact. Pi is a pair of bounds, and a panel is a pair of areas:
// where the two fall in different bands, the larger letters are asked for.
// Heights are whole micrometres, rounded up. Areas are square millimetres.
//
// What is asked here is the day a pack is judged on and the day its batch was
// first supplied: see date.Occasion. What is in the product is the business of
// package inci, and what is written on a given pack that of package label, which
// this package does not import.
package market
