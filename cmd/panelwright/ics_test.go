package main

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
	"panelwright/label"
)

// component is what the parser below reads: a name, properties and the
// components in it.
type component struct {
	name  string
	props map[string][]string // by name with its parameters, as written
	sub   []component
}

// parseICal reads an iCalendar stream by the grammar of RFC 5545, written from its
// text alone:
//
//	contentline = name *(";" param) ":" value CRLF               (3.1)
//	a line longer than 75 octets is folded by CRLF and one white space (3.1)
//	component   = "BEGIN" ":" name CRLF ... "END" ":" name CRLF   (3.4, 3.6)
func parseICal(data string) (component, error) {
	if !strings.HasSuffix(data, "\r\n") {
		return component{}, fmt.Errorf("the last line does not end in CRLF")
	}
	var lines []string
	for i, raw := range strings.Split(strings.TrimSuffix(data, "\r\n"), "\r\n") {
		switch {
		case strings.ContainsAny(raw, "\r\n"):
			return component{}, fmt.Errorf("line %d: a bare CR or LF", i+1)
		case len(raw) > 75:
			return component{}, fmt.Errorf("line %d: %d octets", i+1, len(raw))
		case !utf8.ValidString(raw):
			return component{}, fmt.Errorf("line %d: a character is broken in two", i+1)
		case strings.HasPrefix(raw, " ") || strings.HasPrefix(raw, "\t"):
			if len(lines) == 0 {
				return component{}, fmt.Errorf("nothing to unfold")
			}
			lines[len(lines)-1] += raw[1:]
		default:
			lines = append(lines, raw)
		}
	}
	content := regexp.MustCompile(`^([A-Z0-9-]+(?:;[A-Z0-9-]+=[^;:",]+)*):(.*)$`)
	stack := []component{{}}
	for _, l := range lines {
		m := content.FindStringSubmatch(l)
		if m == nil {
			return component{}, fmt.Errorf("no content line: %q", l)
		}
		top := &stack[len(stack)-1]
		switch m[1] {
		case "BEGIN":
			stack = append(stack, component{name: m[2], props: map[string][]string{}})
		case "END":
			if top.name != m[2] || len(stack) < 2 {
				return component{}, fmt.Errorf("END:%s within %q", m[2], top.name)
			}
			stack[len(stack)-2].sub = append(stack[len(stack)-2].sub, *top)
			stack = stack[:len(stack)-1]
		default:
			if top.props == nil {
				return component{}, fmt.Errorf("%s stands in no component", m[1])
			}
			top.props[m[1]] = append(top.props[m[1]], m[2])
		}
	}
	if len(stack) != 1 || len(stack[0].sub) != 1 {
		return component{}, fmt.Errorf("not one closed component")
	}
	return stack[0].sub[0], nil
}

// unescapeText reads a TEXT value (3.3.11): \\, \;, \, and \n are the only pairs,
// and the three characters stand in no other way.
func unescapeText(s string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case ';', ',':
			return "", fmt.Errorf("a bare %q in %q", s[i], s)
		case '\\':
			i++
			if i == len(s) {
				return "", fmt.Errorf("a backslash ends %q", s)
			}
			switch s[i] {
			case 'n', 'N':
				b.WriteByte('\n')
			case '\\', ';', ',':
				b.WriteByte(s[i])
			default:
				return "", fmt.Errorf("no such pair: \\%c", s[i])
			}
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String(), nil
}

// one returns the only value of a property, which must be there once.
func (c component) one(t *testing.T, prop string) string {
	t.Helper()
	if len(c.props[prop]) != 1 {
		t.Fatalf("%s has %d %s", c.name, len(c.props[prop]), prop)
	}
	return c.props[prop][0]
}

func (c component) text(t *testing.T, prop string) string {
	t.Helper()
	s, err := unescapeText(c.one(t, prop))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func anItem(day date.Date, m inci.Market, message string, products ...string) item {
	return item{products: products, markets: []inci.Market{m}, Change: label.Change{Day: day, Market: m, Packs: label.NewPacks, Before: day,
		Finding: finding.Finding{Severity: finding.Error, Message: message, Cure: "ask, then print"},
		Sources: []finding.Citation{{Text: `Act 1; "entry 2", part \3`, Seen: finding.Memory}}}}
}

func TestICalendar(t *testing.T) {
	hard := `semi; colon: comma, back\slash, a \n that is none, “quotes” and ` + strings.Repeat("größer ☂ ", 30) + "end"
	spring, autumn := date.Of(2027, 4, 1), date.Of(2027, 10, 17)
	items := []item{
		anItem(spring, inci.EU, hard, "hay; fizz", "pine fizz"), anItem(spring, inci.EU, "second thing", "hay; fizz"),
		anItem(spring, inci.GB, "third thing", "pine fizz"),
		anItem(autumn, inci.EU, "fourth thing", "pine fizz"),
	}
	data := iCalendar("Tin Tub", items, date.Of(2026, 11, 25))
	cal, err := parseICal(string(data))
	if err != nil {
		t.Fatal(err)
	}
	if cal.name != "VCALENDAR" || cal.one(t, "VERSION") != "2.0" || cal.one(t, "PRODID") == "" || len(cal.props) != 2 {
		t.Errorf("calendar: %+v", cal)
	}
	type seen struct{ start, summary, describes string }
	var got []seen
	uids := map[string]bool{}
	for _, e := range cal.sub {
		if e.name != "VEVENT" || len(e.sub) != 1 || e.sub[0].name != "VALARM" {
			t.Fatalf("%s with %d components", e.name, len(e.sub))
		}
		var describes []string
		for _, s := range []string{hard, "second thing", "third thing", "fourth thing"} {
			if strings.Contains(e.text(t, "DESCRIPTION"), "\n"+s+"\nTo do: ask, then print\nStock: ") {
				describes = append(describes, strings.Fields(s)[0])
			}
		}
		got = append(got, seen{e.one(t, "DTSTART;VALUE=DATE"), e.text(t, "SUMMARY"), strings.Join(describes, " ")})
		if !strings.Contains(e.text(t, "DESCRIPTION"), `Source: Act 1; "entry 2", part \3 (unverified: memory)`) {
			t.Errorf("the source is lost: %s", e.text(t, "DESCRIPTION"))
		}
		if stamp := e.one(t, "DTSTAMP"); stamp != "20261125T000000Z" {
			t.Errorf("stamped %s", stamp)
		}
		uid := e.one(t, "UID")
		if uids[uid] || !regexp.MustCompile(`^[0-9a-f]{40}@panelwright$`).MatchString(uid) {
			t.Errorf("UID %s", uid)
		}
		uids[uid] = true
		a := e.sub[0]
		if a.one(t, "ACTION") != "DISPLAY" || a.one(t, "TRIGGER") != "-P60D" || a.text(t, "DESCRIPTION") == "" {
			t.Errorf("reminder: %+v", a)
		}
	}
	want := []seen{
		{"20270401", "Packs change, European Union: hay; fizz, pine fizz", "semi; second"},
		{"20270401", "Packs change, Great Britain: pine fizz", "third"},
		{"20271017", "Packs change, European Union: pine fizz", "fourth"},
	}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(seen{})); diff != "" {
		t.Error(diff)
	}
	t.Run("the same book gives the same bytes", func(t *testing.T) {
		if again := iCalendar("Tin Tub", items, date.Of(2026, 11, 25)); string(again) != string(data) {
			t.Error("they differ")
		}
	})
	t.Run("an event keeps its UID when what it says changes", func(t *testing.T) {
		later, err := parseICal(string(iCalendar("Tin Tub", items[3:], date.Of(2026, 12, 1))))
		if err != nil || !uids[later.sub[0].one(t, "UID")] {
			t.Errorf("%v, a new UID", err)
		}
		other, err := parseICal(string(iCalendar("Copper Tub", items[3:], date.Of(2026, 12, 1))))
		if err != nil || uids[other.sub[0].one(t, "UID")] {
			t.Errorf("%v, another workshop's UID", err)
		}
	})
}

// Every length around the limit of a line, in letters of one to four octets.
func TestFolded(t *testing.T) {
	for _, letter := range []string{"a", "ö", "☂", "🛁"} {
		for n := range 200 {
			want := "DESCRIPTION:" + strings.Repeat(letter, n)
			cal, err := parseICal("BEGIN:VCALENDAR\r\n" + folded(want) + "END:VCALENDAR\r\n")
			if err != nil {
				t.Fatalf("%d %s: %v", n, letter, err)
			}
			if got := "DESCRIPTION:" + cal.one(t, "DESCRIPTION"); got != want {
				t.Fatalf("%d %s: %q", n, letter, got)
			}
		}
	}
}
