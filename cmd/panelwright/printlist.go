package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula/finding"
	"panelwright/inci"
)

// want is a line of a print list: so many labels of one product, for one market if it says so.
type want struct {
	at      finding.Pos
	product string
	market  inci.Market
	count   int
}

// most labels of one line: some 500 sheets. More is a slip of the pen.
const mostCount = 10_000

// printList reads a print list: "hay fizz x 20" a line, CSV with product,count,market, or YAML with hay fizz: 20.
// A market may follow the name after a comma. What cannot be read is a finding.
func printList(path string) (wants []want, found finding.List, err error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, fmt.Errorf("the print list cannot be read: %w", err)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r := listReader{file: filepath.Base(path)}
	switch strings.ToLower(filepath.Ext(path)) {
	case ".csv":
		r.csv(data)
	case ".yaml", ".yml":
		r.yaml(data)
	default:
		r.lines(string(data))
	}
	if len(r.wants) == 0 && len(r.found) == 0 {
		r.fail(1, "the print list is empty", "write a line for each product, as in hay fizz x 20")
	}
	return r.wants, r.found, nil
}

type listReader struct {
	file  string
	wants []want
	found finding.List
}

func (r *listReader) fail(line int, message, cure string) {
	r.found.Add(finding.Finding{Rule: "print.list", Severity: finding.Error, Where: finding.Pos{File: r.file, Line: line}, Message: message, Cure: cure})
}

// add adds a line whose count is still text.
func (r *listReader) add(line int, product, count, market string) {
	n, err := strconv.Atoi(strings.TrimSpace(count))
	if err != nil || n < 1 || n > mostCount {
		r.fail(line, fmt.Sprintf("“%s” is no number of labels", count), fmt.Sprintf("write a whole number from 1 to %d", mostCount))
		return
	}
	w := want{at: finding.Pos{File: r.file, Line: line}, product: strings.TrimSpace(product), count: n}
	if market = strings.TrimSpace(market); market != "" {
		m, _, ok := inci.ParseMarket(market)
		if !ok {
			r.fail(line, fmt.Sprintf("“%s” is not a market", market), "known are us, eu, gb, ni, ca")
			return
		}
		w.market = m
	}
	r.wants = append(r.wants, w)
}

// named adds a line whose name may have a market behind a comma.
func (r *listReader) named(line int, name, count string) {
	if i := strings.LastIndexByte(name, ','); i > 0 {
		if _, _, ok := inci.ParseMarket(strings.TrimSpace(name[i+1:])); ok {
			r.add(line, name[:i], count, name[i+1:])
			return
		}
	}
	r.add(line, name, count, "")
}

var (
	nameFirst  = regexp.MustCompile(`^(.*\S)\s+[xX×]\s*([0-9]+)$`)
	countFirst = regexp.MustCompile(`^([0-9]+)\s*[xX×]?\s+(\S.*)$`)
)

func (r *listReader) lines(text string) {
	for i, line := range strings.Split(text, "\n") {
		line, _, _ = strings.Cut(line, " #")
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		if m := nameFirst.FindStringSubmatch(line); m != nil {
			r.named(i+1, m[1], m[2])
		} else if m := countFirst.FindStringSubmatch(line); m != nil {
			r.named(i+1, m[2], m[1])
		} else {
			r.fail(i+1, fmt.Sprintf("“%s” does not say how many", line), "write it as in hay fizz x 20")
		}
	}
}

func (r *listReader) csv(data []byte) {
	cr := csv.NewReader(bytes.NewReader(data))
	cr.FieldsPerRecord, cr.TrimLeadingSpace = -1, true
	if first, _, _ := bytes.Cut(data, []byte("\n")); bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		cr.Comma = ';'
	}
	for first := true; ; first = false {
		rec, err := cr.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			line := 1
			if bad, ok := errors.AsType[*csv.ParseError](err); ok {
				line = bad.Line
			}
			r.fail(line, "the line is not CSV: "+err.Error(), "write product,count or product,count,market")
			return
		}
		line, _ := cr.FieldPos(0)
		if first && len(rec) > 1 && strings.Trim(rec[1], "0123456789 ") != "" {
			continue // heads
		}
		switch len(rec) {
		case 2:
			r.named(line, rec[0], rec[1])
		case 3:
			r.add(line, rec[0], rec[1], rec[2])
		default:
			r.fail(line, fmt.Sprintf("the line has %d fields", len(rec)), "write product,count or product,count,market")
		}
	}
}

func (r *listReader) yaml(data []byte) {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		r.fail(1, err.Error(), "write it as in - hay fizz: 20")
		return
	}
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		switch n.Kind {
		case yaml.DocumentNode, yaml.SequenceNode:
			for _, c := range n.Content {
				walk(c)
			}
		case yaml.MappingNode:
			for i := 0; i+1 < len(n.Content); i += 2 {
				if n.Content[i+1].Kind != yaml.ScalarNode {
					r.fail(n.Content[i].Line, fmt.Sprintf("“%s” has no count", n.Content[i].Value), "write it as in - hay fizz: 20")
					continue
				}
				r.named(n.Content[i].Line, n.Content[i].Value, n.Content[i+1].Value)
			}
		case yaml.ScalarNode:
			if m := nameFirst.FindStringSubmatch(n.Value); m != nil {
				r.named(n.Line, m[1], m[2])
				return
			}
			r.fail(n.Line, fmt.Sprintf("“%s” does not say how many", n.Value), "write it as in - hay fizz: 20")
		default:
			r.fail(n.Line, "a value begins with *, which would refer to another place", "write it out")
		}
	}
	walk(&doc)
}
