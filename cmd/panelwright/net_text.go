package main

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"panelwright/formula/exact"
	"panelwright/formula/finding"
	"panelwright/label/weigh"
	"panelwright/label/weigh/chart"
)

// netText prints the verdict, then each batch with its arithmetic, market by
// market. Markets that say the same line for line are told together.
func (c *call) netText(n *netJob) error {
	w := bufio.NewWriter(c.out)
	fmt.Fprintln(w, n.verdict())
	if n.name != "" {
		fmt.Fprintf(w, "%s, ", n.name)
	}
	fmt.Fprintf(w, "stated %s\n", n.quantity.Text)
	for i := range n.results {
		n.batchText(w, i)
	}
	if n.dry != nil {
		n.dry.text(w)
	}
	fmt.Fprintln(w, "\nJudged by the rules as read here; the official text and the inspector have the last word.")
	return w.Flush()
}

func (n *netJob) batchText(w io.Writer, i int) {
	rs := n.results[i]
	s := rs[0].Sample
	fmt.Fprintln(w)
	if b := n.weighings[i]; b.Batch != "" || b.Date != 0 {
		fmt.Fprintln(w, strings.TrimSpace(fmt.Sprintf("batch %s %s", b.Batch, b.Date)))
	}
	u := " " + n.unit()
	fmt.Fprintf(w, "%d of %d %s weighed: mean %s", s.N, s.Lot, plural(s.Lot, "piece"), decimals(s.Mean)+u)
	if s.N > 1 {
		fmt.Fprintf(w, ", s %s, lightest %s, heaviest %s", weigh.Root(s.Variance, 4)+u, decimals(s.Lightest)+u, decimals(s.Heaviest)+u)
	}
	fmt.Fprintln(w)
	if s.Tare.Sign() > 0 {
		fmt.Fprintf(w, "average tare %s taken off each figure\n", decimals(s.Tare)+u)
	}
	for _, o := range rs[0].Outliers {
		fmt.Fprintf(w, "look at %s, %s: %s; it is judged like the others\n", o.Name, decimals(o.Amount)+u, o.Why)
	}
	for _, r := range rs[0].Remarks {
		fmt.Fprintf(w, "%s\n", r)
	}
	for _, g := range alike(rs) {
		resultText(w, g)
	}
}

// alike groups results that say the same.
func alike(rs []weigh.Result) [][]weigh.Result {
	var out [][]weigh.Result
	for _, r := range rs {
		i := slices.IndexFunc(out, func(g []weigh.Result) bool {
			return g[0].Verdict == r.Verdict && g[0].Largest.Text == r.Largest.Text && g[0].Claim.Net.Text == r.Claim.Net.Text &&
				slices.EqualFunc(g[0].Checks, r.Checks, func(a, b weigh.Check) bool {
					return a.Rule == b.Rule && a.Outcome == b.Outcome && a.Aside == b.Aside && slices.Equal(a.Lines, b.Lines)
				})
		})
		if i < 0 {
			out = append(out, []weigh.Result{r})
			continue
		}
		out[i] = append(out[i], r)
	}
	return out
}

func resultText(w io.Writer, g []weigh.Result) {
	var names []string
	for _, r := range g {
		names = append(names, r.Market.Title())
	}
	r := g[0]
	fmt.Fprintf(w, "\n%s: %s (%s)\n", strings.Join(names, ", "), r.Verdict, r.Claim.Net.Text)
	for k, c := range r.Checks {
		aside := ""
		if c.Aside {
			aside = " (does not count)"
		}
		fmt.Fprintf(w, "  %s: %s%s\n", c.Rule, c.Outcome, aside)
		for _, l := range c.Lines {
			fmt.Fprintf(w, "    %s\n", l)
		}
		var sources []string
		for _, each := range g {
			if s := each.Checks[k].Source.String(); s != "" && !slices.Contains(sources, s) {
				sources = append(sources, s)
			}
		}
		for _, s := range sources {
			fmt.Fprintf(w, "    source: %s\n", s)
		}
	}
	if r.Largest.Text != "" {
		fmt.Fprintf(w, "  the most that these pieces bear out: %s\n", r.Largest.Text)
	}
}

// decimals prints to four places at most.
func decimals(x exact.Rat) string { return x.Decimal(4, exact.Nearest).String() }

// netJSON prints the same as JSON.
func (c *call) netJSON(n *netJob) error {
	out := jsonNet{Verdict: n.verdict(), Product: n.name, Stated: n.quantity.Text, Batches: []jsonBatch{}, Drying: n.dry.json()}
	for i, rs := range n.results {
		b, s := n.weighings[i], rs[0].Sample
		jb := jsonBatch{Batch: b.Batch, Date: b.Date.String(), Unit: n.unit(), Pieces: s.N, Lot: s.Lot, Mean: decimals(s.Mean), Deviation: weigh.Root(s.Variance, 4),
			Lightest: decimals(s.Lightest), Heaviest: decimals(s.Heaviest), Tare: decimals(s.Tare), Outliers: []jsonOutlier{}, Results: []jsonResult{}}
		for _, o := range rs[0].Outliers {
			jb.Outliers = append(jb.Outliers, jsonOutlier{o.Name, decimals(o.Amount), o.Why})
		}
		for _, r := range rs {
			jr := jsonResult{Market: string(r.Market), Verdict: r.Verdict, Stated: r.Claim.Net.Text, Largest: r.Largest.Text, Checks: []jsonCheck{}, Remarks: append([]string{}, r.Remarks...)}
			for _, k := range r.Checks {
				jr.Checks = append(jr.Checks, jsonCheck{k.Rule, k.Outcome, !k.Aside, k.Lines, k.Source.Text, k.Source.Seen, k.Source.Unverified()})
			}
			jb.Results = append(jb.Results, jr)
		}
		out.Batches = append(out.Batches, jb)
	}
	data, err := marshal(out, "")
	if err == nil {
		_, err = c.out.Write(append(data, '\n'))
	}
	return err
}

type jsonNet struct {
	Verdict weigh.Verdict `json:"verdict"`
	Product string        `json:"product,omitempty"`
	Stated  string        `json:"stated"`
	Batches []jsonBatch   `json:"batches"`
	Drying  *jsonDrying   `json:"drying,omitempty"`
}

type jsonBatch struct {
	Batch     string        `json:"batch"`
	Date      string        `json:"date"`
	Unit      string        `json:"unit"`
	Pieces    int           `json:"pieces"`
	Lot       int           `json:"lot"`
	Mean      string        `json:"mean"`
	Deviation string        `json:"standard deviation"`
	Lightest  string        `json:"lightest"`
	Heaviest  string        `json:"heaviest"`
	Tare      string        `json:"tare"`
	Outliers  []jsonOutlier `json:"outliers"`
	Results   []jsonResult  `json:"results"`
}

type jsonOutlier struct {
	Name   string `json:"name"`
	Amount string `json:"amount"`
	Why    string `json:"why"`
}

type jsonResult struct {
	Market  string        `json:"market"`
	Verdict weigh.Verdict `json:"verdict"`
	Stated  string        `json:"stated"`
	Largest string        `json:"largest"`
	Checks  []jsonCheck   `json:"checks"`
	Remarks []string      `json:"remarks"`
}

type jsonCheck struct {
	Rule       string        `json:"rule"`
	Outcome    weigh.Outcome `json:"outcome"`
	Counts     bool          `json:"counts"`
	Lines      []string      `json:"lines"`
	Source     string        `json:"source"`
	Seen       finding.Seen  `json:"seen"`
	Unverified bool          `json:"unverified"`
}

// chart shows the pieces of all batches with the lines of all markets.
func (n *netJob) chart() chart.Chart {
	c := chart.Chart{Title: "Weights of pieces", Unit: n.unit(), Stated: n.quantity.Amount}
	if n.name != "" {
		c.Title += ": " + n.name
	}
	for _, rs := range n.results {
		for _, r := range rs {
			c.Stated = exact.Max(c.Stated, r.Claim.Net.Larger)
		}
	}
	total := 0
	for i, rs := range n.results {
		s := rs[0].Sample
		total += s.N
		c.Batches = append(c.Batches, chart.Batch{Name: n.weighings[i].Batch, Pieces: s.Net(), Mean: s.Mean})
	}
	c.Note = fmt.Sprintf("%d %s in %d %s; dots below the highest dashed line count against the batch", total, plural(total, "piece"), len(c.Batches), batches(len(c.Batches)))
	for _, r := range n.results[0] { // limits follow from what is stated: they are the same for every batch
		for _, l := range r.Limits {
			at := slices.IndexFunc(c.Limits, func(have chart.Limit) bool {
				return have.Amount.Equal(l.Amount) && strings.HasPrefix(have.Name, l.Name+" ")
			})
			if at < 0 {
				c.Limits = append(c.Limits, chart.Limit{Name: l.Name + " " + string(r.Market), Amount: l.Amount})
				continue
			}
			c.Limits[at].Name += " " + string(r.Market)
		}
	}
	return c
}

func batches(n int) string {
	if n == 1 {
		return "batch"
	}
	return "batches"
}
