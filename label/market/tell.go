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

// Serious names what the laws of the United States and of Europe call serious,
// in short and from memory: the official texts have the word.
const Serious = "an effect that needs or needed a doctor or a hospital, that leaves or may leave a lasting harm or a disability, a lasting or severe rash, " +
	"burns or loss of hair among them, an infection, harm to an unborn child, danger to life, or death"

// SeriousSource is where Serious comes from.
var SeriousSource = finding.Citation{Text: "FD&C Act section 604(5); Regulation (EC) No 1223/2009 Art. 2(1)(p); shortened, from memory", Seen: finding.Memory}
