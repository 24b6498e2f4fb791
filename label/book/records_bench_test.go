package book_test

import (
	"fmt"
	"runtime"
	"testing"

	"panelwright/label/book"
	"panelwright/label/record"
	"panelwright/label/record/journal"
)

const benchLots, benchReceipts = 10_000, 2_000

// manyRecords writes the records of an invented workshop: every lot of a
// product uses two lots of materials, one in ten is a box of two lots, one in
// two was sold, and every third has no lot of its scent recorded.
func manyRecords(tb testing.TB) string {
	tb.Helper()
	dir := tb.TempDir()
	var docs [][]byte
	add := func(format string, args ...any) { docs = append(docs, fmt.Appendf(nil, format, args...)) }
	day := func(i, of int) string { return fmt.Sprintf("20%02d-%02d-%02d", 20+6*i/of, 1+i%12, 1+i%28) }
	for i := range benchReceipts {
		add("received: scent %d\nlot: R%d\non: %s\namount: 1 kg\nsupplier: Invented Oils\nsheet: sheet %d\n", i%40, i, day(i, benchReceipts), i)
	}
	for i := range benchLots {
		if i%10 == 9 {
			add("made: box %d\nlot: L%d\non: %s\npieces: 10\nused: {fizz %d: L%d x 10, fizz %d: L%d x 10}\n", i%7, i, day(i, benchLots), (i-1)%50, i-1, (i-2)%50, i-2)
			continue
		}
		r := i * benchReceipts / benchLots
		used := fmt.Sprintf("{scent %d: R%d, baking soda: B%d}", r%40, r, r)
		if i%3 == 0 {
			used = fmt.Sprintf("{baking soda: B%d}", r)
		}
		add("made: fizz %d\nlot: L%d\non: %s\npieces: 80\nused: %s\nweighed: {scent: %d.5 g}\nremarks: all went well\n", i%50, i, day(i, benchLots), used, 60+i%9)
		if i%2 == 0 {
			add("went: L%d\non: 2026-11-01\npieces: 18\nto: Shop %d\ncontact: 0123 %d\n", i, i%60, i%60)
		}
	}
	if _, err := journal.Append(dir, "2026-11-25 12:00", docs...); err != nil {
		tb.Fatal(err)
	}
	return dir
}

func traceBoth(tb testing.TB, l *record.Ledger, i int) {
	r := i % benchReceipts
	code := fmt.Sprintf("R%d", r)
	out := l.Forward(l.Receipts(code))
	if len(out.Lots) < 3 {
		tb.Fatalf("%s reached %d lots", code, len(out.Lots))
	}
	l.PiecesOf(out.Lots)
	name := fmt.Sprintf("scent %d", r%40)
	l.Suspects(name, l.Receipt(name, code).On, func(x *record.Lot) bool { return x.Product == fmt.Sprintf("fizz %d", r%50) })
	if back := l.Back(l.Lot(fmt.Sprintf("L%d", 9+10*(i%(benchLots/10))))); len(back.Lots) != 3 {
		tb.Fatalf("%d lots in the box", len(back.Lots))
	}
}

// BenchmarkTrace follows a lot of material out, with the lots that may hold it,
// and a lot of boxes back; once loaded. To reach: 0.1 s.
func BenchmarkTrace(b *testing.B) {
	l, _, err := book.Records(manyRecords(b))
	if err != nil {
		b.Fatal(err)
	}
	i := 0
	for b.Loop() {
		traceBoth(b, l, i)
		i++
	}
}

// BenchmarkTraceCold reads 17,000 entries, joins them and traces. To reach:
// 1.5 s.
func BenchmarkTraceCold(b *testing.B) {
	dir := manyRecords(b)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var l *record.Ledger
	for b.Loop() {
		var err error
		if l, _, err = book.Records(dir); err != nil {
			b.Fatal(err)
		}
		if len(l.Lots) != benchLots || len(l.Received) != benchReceipts {
			b.Fatalf("%d lots, %d receipts", len(l.Lots), len(l.Received))
		}
		traceBoth(b, l, 7)
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/(1<<20), "heap-MB")
	runtime.KeepAlive(l)
}
