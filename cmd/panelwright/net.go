package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"panelwright/formula/date"
	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label/market"
	"panelwright/label/render/pdf"
	"panelwright/label/render/svg"
	"panelwright/label/scene"
	"panelwright/label/weigh"
)

// netFlags are the flags of the verb net.
type netFlags struct {
	stated, weights, tare, scale, drying, chart string
	lot                                         int
}

func (c *call) setLot(v string) error {
	n, err := strconv.Atoi(v)
	if err != nil || n < 1 {
		return fmt.Errorf("%q is not a number of packs; write a whole number from 1", v)
	}
	c.weighed.lot = n
	return nil
}

// net judges weighings against the net quantity that the packs state.
func net(c *call) (int, error) {
	if c.weighed.weights == "" && c.weighed.drying == "" && len(c.args) == 0 && c.product == "" && c.sheets.lot == "" {
		return exitFailed, usageError("net wants what was weighed: --weights FILE or --weights \"160.2 159.8\"")
	}
	n, err := c.netStated()
	if err != nil {
		return exitFailed, err
	}
	if err := c.netLot(n); err != nil {
		return exitFailed, err
	}
	if err := c.netWeights(n); err != nil {
		return exitFailed, err
	}
	if len(n.weighings) == 0 && len(n.readings) == 0 {
		return exitFailed, usageError(fmt.Sprintf("nothing of %s was weighed, so nothing was judged: give --weights FILE or --weights \"160.2 159.8\", or write weights: in the product", n.name))
	}
	n.judge(c.weighed.drying)
	if c.weighed.chart != "" {
		if err := c.netChart(n); err != nil {
			return exitFailed, err
		}
	}
	if c.json {
		err = c.netJSON(n)
	} else {
		err = c.netText(n)
	}
	if n.verdict() != weigh.Holds {
		return exitErrors, err
	}
	return exitClean, err
}

// netJob is what the verb net works on.
type netJob struct {
	name      string // of the product, or ""
	quantity  market.Quantity
	claims    []weigh.Claim // one a market
	markets   []inci.Market
	scale     exact.Rat
	capacity  exact.Rat
	readings  []weigh.Reading
	lastDay   date.Date // of sale; 0 if not known
	weighings []weigh.Weighing
	results   [][]weigh.Result // by weighing, then market
	dry       *drying
}

// netStated finds what the packs state: by --net, or in the book.
func (c *call) netStated() (*netJob, error) {
	n := &netJob{lastDay: c.until}
	if c.weighed.stated != "" {
		if len(c.args) > 0 || c.product != "" {
			return nil, usageError("net takes a product of the book or --net, not both")
		}
		q, err := weigh.Stated(c.weighed.stated)
		if err != nil {
			return nil, usageError("--net: " + err.Error())
		}
		n.quantity = q
		n.markets = c.markets
		if len(n.markets) == 0 {
			n.markets = inci.Markets
		}
		for _, m := range n.markets {
			s, _ := market.For(m).Net(q, 1, market.NetOptions{})
			n.claims = append(n.claims, weigh.Claim{Quantity: q, Net: s})
		}
		return n, nil
	}
	if c.product == "" {
		if len(c.args) == 0 {
			return nil, usageError("net wants a product of the book, or --net with what the packs state")
		}
		c.product, c.args = c.args[0], c.args[1:]
	}
	return n, c.netOfBook(n)
}

// netOfBook takes the statements of a product as its declarations have them.
func (c *call) netOfBook(n *netJob) error {
	b, jobs, _, err := c.openAndJudge()
	if err != nil {
		return err
	}
	for j := range jobs {
		p := j.product
		n.name, n.quantity = p.Name, p.Net
		for _, d := range j.decls {
			n.markets = append(n.markets, d.Market)
			n.claims = append(n.claims, weigh.Claim{Quantity: p.Net, Net: d.Net, Countries: b.Workshop.Countries})
		}
		n.readings = p.Readings()
		if n.lastDay == 0 {
			n.lastDay = p.LastDayOfSale(c.placed)
		}
	}
	if n.quantity.IsZero() {
		return fmt.Errorf("%s states no net quantity; write net: in the product, as in net: 160 g", n.name)
	}
	if len(n.claims) == 0 {
		return usageError(fmt.Sprintf("%s is not sold in the markets asked for", n.name))
	}
	n.scale, n.capacity = b.Workshop.ScaleReads, b.Workshop.ScaleUpTo
	return nil
}

func (n *netJob) unit() string {
	if n.quantity.Volume {
		return "ml"
	}
	return "g"
}

// netWeights reads what was weighed and how.
func (c *call) netWeights(n *netJob) error {
	f := &c.weighed
	if f.weights != "" {
		ws, err := c.readWeights("--weights", f.weights, n.unit())
		if err != nil {
			return err
		}
		n.weighings = ws
	}
	if f.drying != "" {
		ws, err := c.readWeights("--drying", f.drying, "g")
		if err != nil {
			return err
		}
		n.readings = nil
		for _, w := range ws {
			for _, g := range w.Figures {
				if g.Date == 0 {
					return fmt.Errorf("%s: a weighing without its day; write it beside the figure, as in 160.2; 2026-11-20", g.Where)
				}
				n.readings = append(n.readings, weigh.Reading{Day: g.Date, Grams: g.Amount})
			}
		}
	}
	if f.lot > 0 && len(n.weighings) > 1 {
		return usageError("--lot-size is for one batch, and the weights are of several; judge them one by one")
	}
	var tares []exact.Rat
	if f.tare != "" {
		ws, err := c.readWeights("--tare", f.tare, "g")
		if err != nil {
			return err
		}
		for _, w := range ws {
			for _, g := range w.Figures {
				tares = append(tares, g.Amount)
			}
		}
	}
	if f.scale != "" {
		w, found := weigh.Typed(f.scale, n.unit())
		if len(found) > 0 || len(w.Figures) != 1 {
			return usageError(fmt.Sprintf("--scale: “%s” is not the step of a scale; write it as in 0.1 g", f.scale))
		}
		n.scale, n.capacity = w.Figures[0].Amount, exact.Rat{}
	}
	for i := range n.weighings {
		w := &n.weighings[i]
		w.Tares, w.Division, w.Capacity = tares, n.scale, n.capacity
		if w.Lot = f.lot; f.lot > 0 && f.lot < len(w.Figures) {
			return usageError(fmt.Sprintf("--lot-size %d is less than the %d pieces weighed", f.lot, len(w.Figures)))
		}
		if s := w.Sample(); s.Lightest.Sign() <= 0 {
			return usageError(fmt.Sprintf("the tare of %s g leaves nothing of the lightest figure", s.Tare.Decimal(4, exact.Nearest)))
		}
	}
	return nil
}

// readWeights reads a file, or figures typed in its place.
func (c *call) readWeights(flag, v, unit string) ([]weigh.Weighing, error) {
	data, err := os.ReadFile(v)
	var ws []weigh.Weighing
	var found finding.List
	where := flag
	if err == nil {
		ws, found = weigh.Read(v, data, unit)
		where = v
	} else {
		var w weigh.Weighing
		w, found = weigh.Typed(v, unit)
		ws = []weigh.Weighing{w}
		if len(found) > 0 && !errors.Is(err, os.ErrNotExist) || len(found) > 0 && len(strings.Fields(v)) == 1 {
			return nil, fmt.Errorf("%s: there is no file %s that can be read, and it is no weight either", flag, v)
		}
	}
	if len(found) > 0 {
		c.problems(found)
		return nil, fmt.Errorf("%s: %d %s could not be read; nothing was judged", where, len(found), plural(len(found), "line"))
	}
	return ws, nil
}

func (n *netJob) judge(dryingFile string) {
	rules := make([]*market.Rules, len(n.markets))
	for i, m := range n.markets {
		rules[i] = market.For(m)
	}
	for _, w := range n.weighings {
		n.results = append(n.results, weigh.JudgeEach(rules, n.claims, w))
	}
	if len(n.readings) > 0 || dryingFile != "" {
		n.dry = n.judgeDrying()
	}
}

// verdict is the worst of all.
func (n *netJob) verdict() (v weigh.Verdict) {
	for _, rs := range n.results {
		for _, r := range rs {
			v = max(v, r.Verdict)
		}
	}
	if n.dry != nil {
		v = max(v, n.dry.verdict)
	}
	return v
}

// netChart writes the chart as its file's name asks.
func (c *call) netChart(n *netJob) error {
	if len(n.results) == 0 {
		return usageError("--chart draws the pieces of --weights")
	}
	s, err := n.chart().Scene()
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	mark := pdfMark
	switch ext := strings.ToLower(filepath.Ext(c.weighed.chart)); ext {
	case ".svg":
		mark, err = chartMark, svg.Write(&buf, &s, svg.Options{})
	case ".pdf":
		err = pdf.Write(&buf, []scene.Scene{s}, pdf.Options{Date: day(c.on)})
	default:
		return usageError(fmt.Sprintf("--chart: %q is neither .svg nor .pdf", c.weighed.chart))
	}
	if err != nil {
		return err
	}
	return renew(c.weighed.chart, mark, buf.Bytes())
}
