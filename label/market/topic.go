package market

import (
	"sync"

	"panelwright/formula"
)

// topics is data/topics.csv: substances that the practice of the trade warns of,
// besides the classes that package inci lists.
var topics = sync.OnceValue(func() map[formula.Key][]string {
	all := map[formula.Key][]string{}
	for _, r := range load("topics.csv") {
		k := formula.Key(r.text("key"))
		all[k] = append(all[k], r.text("topic"))
	}
	return all
})

// Topics returns the topics of Caution that a substance falls under by the
// table here: "lye", "oil-phototoxic", "oil-strong", "oil-children",
// "oil-eucalyptus". Nil for most substances.
func Topics(k formula.Key) []string { return topics()[k] }
