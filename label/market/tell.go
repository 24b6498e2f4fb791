package market

import (
	"sync"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// Telling says whom the law of a market wants told of a serious effect, and by
// when. Source tells whether that was seen.
type Telling struct {
	Market inci.Market
	Who    string
	When   string
	Keep   string // what to keep of it, and for how long; "" if nothing is known
	Source finding.Citation
}

var tellings = sync.OnceValue(func() map[inci.Market]Telling {
	all := map[inci.Market]Telling{}
	for _, r := range load("tell.csv") {
		m := inci.Market(r.text("market"))
		all[m] = Telling{m, r.text("who"), r.text("when"), r.text("keep"), r.cite()}
	}
	return all
})

// Tell returns whom to tell in a market.
func Tell(m inci.Market) Telling { return tellings()[m] }

// Serious returns what the laws of the United States and of Europe call
// serious, in short, and where that comes from. The official texts have the
// word.
func Serious() (words string, source finding.Citation) {
	r := load("serious.csv")[0]
	return r.text("words"), r.cite()
}
