package market

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"panelwright/formula/date"
	"panelwright/formula/finding"
	"panelwright/inci"
)

// seat is a row of data/responsible.csv: countries where the person named on
// the pack may be established.
type seat struct {
	eu      bool // all member states
	codes   []string
	window  date.Window // of the first supply
	words   string
	source  finding.Citation
	accepts string
}

var seats = sync.OnceValue(func() map[inci.Market][]seat {
	all := map[inci.Market][]seat{}
	for _, r := range load("responsible.csv") {
		m := inci.Market(r.text("market"))
		all[m] = append(all[m], seat{r.text("accepts") == "EU27", r.words("accepts"),
			date.Window{Until: r.date("until")}, r.text("words"), r.cite(), r.text("accepts")})
	}
	return all
})

func (s seat) takes(code string) bool { return s.eu && isEU(code) || slices.Contains(s.codes, code) }

// CheckResponsible judges the person named on the pack: the country where that
// person is established, as an ISO code (NI or XI for Northern Ireland, "" if not
// stated), and the telephone, email or web address on the pack ("" if none).
func (r *Rules) CheckResponsible(country, contact string, o date.Occasion) []finding.Finding {
	c := personCheck{r: r, o: o, contact: strings.TrimSpace(contact)}
	if country != "" {
		code, ok := Country(country)
		if !ok {
			c.find("responsible.country", finding.Error, finding.Citation{}, fmt.Sprintf("%q is not a country code", country), "write the two letters, as in country: DE")
			return c.findings
		}
		c.code = code
	}
	switch r.Market {
	case inci.US:
		c.adverseEvents()
	case inci.CA:
		c.canada()
	default:
		c.established()
	}
	return c.findings
}

type personCheck struct {
	r             *Rules
	o             date.Occasion
	code, contact string
	findings      []finding.Finding
}

func (c *personCheck) find(code string, s finding.Severity, source finding.Citation, message, cure string) {
	c.findings = append(c.findings, finding.Finding{
		Rule: c.r.code(code), Severity: s, Market: string(c.r.Market), Message: message, Cure: cure, Source: source})
}

// established: EU, NI and GB ask for a person in the territory.
func (c *personCheck) established() {
	rows := seats()[c.r.Market]
	if c.code == "" {
		c.find("responsible.country", finding.Question, rows[0].source,
			"the country of the responsible person is not stated, and it decides whether the name on the pack will do", "add country: with its two letters")
		return
	}
	var lapsed *seat
	for i, s := range rows {
		switch {
		case !s.takes(c.code):
		case !s.window.Has(c.o.Placed):
			lapsed = &s
		default:
			c.accepted(s, i == 0)
			return
		}
	}
	message := fmt.Sprintf("the responsible person is in %s; for %s it must be one %s", c.code, c.r.Name, rows[0].words)
	source := rows[0].source
	if lapsed != nil {
		message += fmt.Sprintf(" (%s; this batch is first supplied on %v)", lapsed.words, c.o.Placed)
		source = lapsed.source
	}
	c.find("responsible.outside", finding.Error, source, message, "name a responsible person established there, with a written mandate")
}

// accepted says on what the acceptance rests, where that is not plain.
func (c *personCheck) accepted(s seat, plain bool) {
	switch {
	case s.window.Until != 0:
		c.find("responsible.until", finding.Note, s.source, fmt.Sprintf("the responsible person is in %s: %s", c.code, s.words),
			fmt.Sprintf("new labels will need one established in the territory from %v", s.window.Until))
	case !plain && s.source.Unverified():
		c.find("responsible.unverified", finding.Note, s.source, fmt.Sprintf("a responsible person in %s counts as one %s", c.code, s.words), "look the rule up before a large print")
	}
}

// adverseEvents: the US asks for a domestic address, a domestic telephone
// number or an electronic contact (FD&C Act section 609(a)).
func (c *personCheck) adverseEvents() {
	var duty Requirement
	for _, q := range requirements()[inci.US] {
		if q.Kind == "contact" {
			duty = q
		}
	}
	domestic := slices.ContainsFunc(seats()[inci.US], func(s seat) bool { return s.takes(c.code) })
	if !duty.Duty.Binds(c.o) || domestic || electronic(c.contact) {
		return
	}
	switch {
	case c.contact == "" && c.code == "":
		c.find("contact.unclear", finding.Question, duty.Source,
			"no contact for reports of adverse events is stated, and the address is not known to be in the US", "add contact: with an email, a web address or a US telephone number, or country: US")
	case c.contact == "":
		c.find("contact.missing", finding.Error, duty.Source,
			fmt.Sprintf("the address is in %s and there is no contact for reports of adverse events", c.code), "add contact: with an email, a web address or a US telephone number")
	case foreignNumber(c.contact):
		c.find("contact.foreign", finding.Error, duty.Source,
			fmt.Sprintf("the contact %q is a telephone number outside the US", c.contact), "give an email or a web address, or a US telephone number")
	case !domesticNumber(c.contact):
		c.find("contact.unclear", finding.Question, duty.Source,
			fmt.Sprintf("the contact %q is not seen to be an email, a web address or a US telephone number", c.contact), "write it in full, or answer what it is")
	}
}

// Electronic reports whether a contact is an email or web address, and no
// telephone number or postal address.
func Electronic(contact string) bool { return electronic(strings.TrimSpace(contact)) }

// electronic reports whether s is an email or a web address.
func electronic(s string) bool {
	return !strings.ContainsAny(s, " \t") && strings.Contains(strings.Trim(s, "."), ".") && strings.ContainsAny(strings.ToLower(s), "abcdefghijklmnopqrstuvwxyz")
}

func foreignNumber(s string) bool {
	d := digits(s)
	return (strings.HasPrefix(s, "+") || strings.HasPrefix(s, "00")) && len(d) >= 7 && !strings.HasPrefix(strings.TrimPrefix(d, "00"), "1")
}

// domesticNumber: ten digits of the North American plan, 1 before them or not.
func domesticNumber(s string) bool {
	d := strings.TrimPrefix(strings.TrimPrefix(digits(s), "00"), "1")
	return len(d) == 10 && d[0] >= '2'
}

func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}

// canada: a contact on the container, and a dealer on the pack.
func (c *personCheck) canada() {
	dealer := seats()[inci.CA][0]
	if c.contact == "" {
		for _, q := range requirements()[inci.CA] {
			if q.Kind == "contact" && q.Duty.Binds(c.o) {
				c.find("contact.missing", finding.Question, q.Source,
					"no telephone, email or website is stated for questions of customers", "add contact:, or answer that the postal address reaches a contact person")
			}
		}
	}
	switch {
	case c.code == "":
		c.find("dealer.country", finding.Question, dealer.source, "the country of the dealer is not stated, and it decides whether import words are needed", "add country: with its two letters")
	case !dealer.takes(c.code):
		c.find("dealer.outside", finding.Warning, importWords(), fmt.Sprintf("the dealer named is in %s", c.code),
			"if the goods are imported, put \"imported by / importé par\" or \"imported for / importé pour\" before a Canadian dealer, or state the geographic origin")
	}
}

// importWords is the source of the words of CPLR s. 31.
func importWords() finding.Citation {
	for _, q := range requirements()[inci.CA] {
		if q.Kind == "origin" {
			return q.Source
		}
	}
	return finding.Citation{}
}
