package inci

import "sync"

// Market is one of the five territories with rules of their own.
type Market string

// The markets. NI follows the EU rules for substances, GB its own copy of them.
const (
	US Market = "us"
	EU Market = "eu"
	GB Market = "gb"
	NI Market = "ni"
	CA Market = "ca"
)

// Markets lists all markets in the order of output.
var Markets = []Market{US, EU, GB, NI, CA}

// Title returns the name of the market as a heading has it, or the code
// itself for an unknown market.
func (m Market) Title() string {
	for _, r := range marketNames().rows {
		if r.get("kind") == "market" && r.get("market") == string(m) {
			return r.get("name")
		}
	}
	return string(m)
}

// Inside returns the name of the market as it stands in a sentence, with its
// article: "the United States", "Great Britain".
func (m Market) Inside() string {
	if m == US || m == EU {
		return "the " + m.Title()
	}
	return m.Title()
}

var marketNames = sync.OnceValue(func() table { return readTable(marketsText) })

var marketIndex = sync.OnceValue(func() map[string]row {
	index := map[string]row{}
	for _, r := range marketNames().rows {
		index[Fold(r.get("name"))] = r
		for _, other := range r.list("others") {
			index[Fold(other)] = r
		}
	}
	return index
})

// ParseMarket reads a market code ("us") or the name of a territory ("United
// States", "England"). A member state of the European Union, by English name or
// ISO code, gives EU and the code of the country in capitals; country is empty
// otherwise.
func ParseMarket(s string) (m Market, country string, ok bool) {
	r, ok := marketIndex()[Fold(s)]
	if !ok {
		return "", "", false
	}
	return Market(r.get("market")), r.get("country"), true
}
