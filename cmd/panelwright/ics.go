package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"panelwright/formula/date"
	"panelwright/inci"
)

// prodID names this program in the files it writes (RFC 5545, 3.7.3).
const prodID = "-//panelwright//calendar//EN"

// remindDays is how long before a day the calendar program reminds: labels have
// to be printed and old stock sold.
const remindDays = 60

// iCalendar returns the items as an iCalendar object (RFC 5545): an all-day event
// for each day and market, with a reminder. It is stamped with the day judged, so
// that the same book gives the same bytes. An event keeps its UID as long as
// workshop, day and market stay the same: a calendar program that reads a later
// file replaces the event and does not show it twice. The items must be sorted by
// day and market.
func iCalendar(workshop string, items []item, on date.Date) []byte {
	var b bytes.Buffer
	line := func(name, value string) { b.WriteString(folded(name + ":" + value)) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", prodID)
	for len(items) > 0 {
		day, m := items[0].Day, items[0].Market
		n := slices.IndexFunc(items, func(it item) bool { return it.Day != day || it.Market != m })
		if n < 0 {
			n = len(items)
		}
		summary := summaryOf(items[:n], m)
		line("BEGIN", "VEVENT")
		line("UID", fmt.Sprintf("%x@panelwright", sha256.Sum256([]byte(workshop+"\x00"+day.String()+"\x00"+string(m))))[24:])
		line("DTSTAMP", fmt.Sprintf("%08dT000000Z", on))
		line("DTSTART;VALUE=DATE", fmt.Sprintf("%08d", day))
		line("SUMMARY", escaped(summary))
		line("DESCRIPTION", escaped(descriptionOf(items[:n])))
		line("TRANSP", "TRANSPARENT")
		line("BEGIN", "VALARM")
		line("ACTION", "DISPLAY")
		line("DESCRIPTION", escaped(fmt.Sprintf("In %d days: %s", remindDays, summary)))
		line("TRIGGER", fmt.Sprintf("-P%dD", remindDays))
		line("END", "VALARM")
		line("END", "VEVENT")
		items = items[n:]
	}
	line("END", "VCALENDAR")
	return b.Bytes()
}

func summaryOf(items []item, m inci.Market) string {
	var products []string
	for _, it := range items {
		for _, p := range it.products {
			if !slices.Contains(products, p) {
				products = append(products, p)
			}
		}
	}
	return fmt.Sprintf("Packs change, %s: %s", m.Title(), someOf(products, 2))
}

func descriptionOf(items []item) string {
	var lines []string
	for i, it := range items {
		if i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, firstUpper(it.reaches())+": "+someOf(it.products, 10), it.Finding.Message)
		if it.Finding.Cure != "" {
			lines = append(lines, "To do: "+it.Finding.Cure)
		}
		if s := it.stock(); s != "" {
			lines = append(lines, "Stock: "+s)
		}
		for _, s := range entriesTogether(it.Sources) {
			lines = append(lines, "Source: "+s)
		}
	}
	return strings.Join(lines, "\n")
}

func firstUpper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// escaped writes a value of type TEXT (RFC 5545, 3.3.11).
var escaped = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`).Replace

// folded ends a content line and breaks it so that no line is longer than 75
// octets, never within a character (RFC 5545, 3.1).
func folded(s string) string {
	var b strings.Builder
	room := 75
	for _, r := range s {
		n := utf8.RuneLen(r)
		if n > room {
			b.WriteString("\r\n ")
			room = 74
		}
		b.WriteRune(r)
		room -= n
	}
	b.WriteString("\r\n")
	return b.String()
}
