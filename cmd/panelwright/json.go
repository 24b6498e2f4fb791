package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"iter"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/label"
)

// jsonDeclaration is the stable shape of declare --json. Per cents are decimal
// strings.
type jsonDeclaration struct {
	Product    string         `json:"product"`
	Market     string         `json:"market"`
	On         date.Date      `json:"on"`
	Placed     date.Date      `json:"placed"`
	Convention string         `json:"convention"`
	Verdict    string         `json:"verdict"`
	Text       string         `json:"text"`
	Net        string         `json:"net"`
	Entries    []jsonEntry    `json:"entries"`
	Allergens  []jsonAllergen `json:"allergens"`
	Findings   []jsonFinding  `json:"findings"`
	Reviewed   date.Date      `json:"reviewed"`
}

type jsonEntry struct {
	Name    string      `json:"name"`
	Kind    label.Kind  `json:"kind"`
	Percent label.Shown `json:"percent"`
	Order   label.Mark  `json:"order"`
}

type jsonAllergen struct {
	Name      string      `json:"name"`
	Percent   label.Shown `json:"percent"`
	Above     string      `json:"above"`
	Declared  bool        `json:"declared"`
	Certain   bool        `json:"certain"`
	Estimated bool        `json:"estimated"`
}

type jsonFinding struct {
	Rule       finding.Code     `json:"rule"`
	Severity   finding.Severity `json:"severity"`
	Product    string           `json:"product,omitempty"`
	Where      string           `json:"where"`
	Message    string           `json:"message"`
	Cure       string           `json:"cure"`
	Source     string           `json:"source"`
	Unverified bool             `json:"unverified"`
}

// writeDeclarations writes the array one declaration at a time and returns the
// exit code.
func writeDeclarations(w io.Writer, jobs iter.Seq[judged]) (int, error) {
	out := bufio.NewWriterSize(w, 1<<16)
	code, sep := exitClean, "["
	for j := range jobs {
		for _, d := range j.decls {
			code = max(code, exitOf(d.Findings))
			data, err := marshal(toJSON(d), "  ")
			if err != nil {
				return exitFailed, err
			}
			out.WriteString(sep + "\n  ")
			out.Write(data)
			sep = ","
		}
	}
	if sep == "[" {
		out.WriteString(sep)
	}
	out.WriteString("\n]\n")
	return code, out.Flush()
}

// marshal is indented JSON with <, > and & as they are.
func marshal(v any, prefix string) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent(prefix, "  ")
	err := enc.Encode(v)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

func toJSON(d *label.Declaration) jsonDeclaration {
	x := jsonDeclaration{
		Product: d.Product.Name, Market: string(d.Market), On: d.Occasion.On, Placed: d.Occasion.Placed,
		Convention: d.Convention(), Verdict: d.Verdict().String(), Text: d.Text(), Net: d.Net.Text, Reviewed: d.Rules.Reviewed,
		Entries: []jsonEntry{}, Allergens: []jsonAllergen{}, Findings: []jsonFinding{},
	}
	for _, e := range d.Entries {
		x.Entries = append(x.Entries, jsonEntry{e.Name, e.Kind, label.Show(e.Share), e.Order})
	}
	for _, r := range d.Allergens {
		x.Allergens = append(x.Allergens, jsonAllergen{r.Entry.Name, r.Shown(), r.Limit(), r.Declared, r.Certain, r.Estimated})
	}
	for _, f := range d.Findings {
		f := findingJSON(f)
		if f.Product == x.Product {
			f.Product = ""
		}
		x.Findings = append(x.Findings, f)
	}
	return x
}

func findingJSON(f finding.Finding) jsonFinding {
	return jsonFinding{f.Rule, f.Severity, f.Product, f.Where.String(), f.Message, f.Cure, f.Source.Text, f.Source.Unverified()}
}
