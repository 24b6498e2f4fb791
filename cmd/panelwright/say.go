package main

import (
	"fmt"
	"slices"
	"strings"

	"panelwright/formula/finding"
	"panelwright/label/book"
	"panelwright/label/record"
)

// sayText turns "lot: 0614; state: ready" into an entry, dated on the day of the call if it says no day.
func (c *call) sayText() []byte {
	var lines []string
	dated := false
	for _, part := range apart(c.rec.say) {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		dated = dated || strings.HasPrefix(part, "on:")
		lines = append(lines, part)
	}
	if !dated {
		lines = append(lines, "on: "+c.on.String())
	}
	return []byte(strings.Join(lines, "\n") + "\n")
}

// sayable returns an error for a part of what was said that no colon parts into what it is and what it says.
func sayable(s string) error {
	for _, part := range apart(s) {
		if part = strings.TrimSpace(part); part != "" && !strings.Contains(part, ":") {
			return usageError(fmt.Sprintf("--say: “%s” has no colon; write it as in \"went: 1120; pieces: 18; to: Harbour Shop\", and quotes round a text with a semicolon in it", part))
		}
	}
	return nil
}

// apart splits what was said at semicolons that stand in no quotes, brackets or braces. A quotation mark inside a word,
// as in it's, is none.
func apart(s string) (out []string) {
	var quote byte
	depth, from := 0, 0
	for i := range len(s) {
		c := s[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case (c == '\'' || c == '"') && (i == 0 || strings.IndexByte(" :[{,", s[i-1]) >= 0) && strings.IndexByte(s[i+1:], c) >= 0:
			quote = c
		case c == '[' || c == '{':
			depth++
		case (c == ']' || c == '}') && depth > 0:
			depth--
		case c == ';' && depth == 0:
			out = append(out, s[from:i])
			from = i + 1
		}
	}
	return append(out, s[from:])
}

// quoted writes a text so that it is read back as it is.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }

// joinForms joins what is to be recorded to what is. Only what the new entries bring about is said.
func joinForms(led *record.Ledger, forms []book.Form) (*record.Ledger, finding.List) {
	_, before := record.NewLedger(led.All)
	all := slices.Clone(led.All)
	for i, f := range forms {
		f.Entry.Number = led.Last() + i + 1
		all = append(all, f.Entry)
	}
	joined, found := record.NewLedger(all)
	return joined, slices.DeleteFunc(found, func(f finding.Finding) bool { return slices.Contains(before, f) })
}
