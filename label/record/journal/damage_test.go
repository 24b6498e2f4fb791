package journal

import (
	"bytes"
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// five returns a journal of five entries, the last two appended together.
func five() string {
	b := write(nil, 0, noSeal, noon, texts([]string{"one: 1\n"}))
	for _, docs := range [][]string{{"two: 2\n"}, {"three: 3\n"}, {"four: 4\n", "five: 5\n"}} {
		c := read(b)
		b = append(b, write(b, c.last, c.seal, noon, texts(docs))...)
	}
	return string(b)
}

// part returns the lines of one entry of the journal, from its --- on.
func part(journal string, n int) string {
	word := []string{"", "one", "two", "three", "four", "five"}[n]
	return regexp.MustCompile("(?s)---\n"+word+".*?after [0-9a-f]{16}\n").FindString(journal) + ""
}

func cut(old, new string) func(string) string {
	return func(s string) string {
		if !strings.Contains(s, old) {
			panic(fmt.Sprintf("%q is not in the journal", old))
		}
		return strings.Replace(s, old, new, 1)
	}
}

// say writes what Parse returns in one line: the texts, an exclamation mark behind those changed, and the damage.
func say(entries []Entry, damage []Damage) (got, wrong string) {
	var texts, says []string
	for _, e := range entries {
		s := fmt.Sprintf("%d %s", e.Number, strings.Join(strings.Fields(string(e.Text)), " "))
		if e.Changed {
			s += "!"
		}
		texts = append(texts, s)
	}
	for _, d := range damage {
		says = append(says, fmt.Sprintf("%d: %s", d.Line, d.Message))
	}
	return strings.Join(texts, "; "), strings.Join(says, "; ")
}

func TestDamage(t *testing.T) {
	j := five()
	const all = "1 one: 1; 2 two: 2; 3 three: 3; 4 four: 4; 5 five: 5"
	for _, tt := range []struct {
		name      string
		how       func(string) string
		want, say string
	}{
		{"nothing", func(s string) string { return s }, all, ""},
		{"line ends of Windows", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }, all, ""},
		{"line ends of an old Macintosh", func(s string) string { return strings.ReplaceAll(s, "\n", "\r") }, all, ""},
		{"byte order mark", func(s string) string { return "\ufeff" + s }, all, ""},
		{"no last line end", func(s string) string { return strings.TrimSuffix(s, "\n") }, all, ""},
		{"blanks behind marks", func(s string) string { return strings.ReplaceAll(s, "---\n", "--- \t\n") }, all, ""},
		{"remarks between entries", cut(part(j, 3), "# the wet week\n\n"+part(j, 3)+"  # over\n"), all, ""},
		{"remark at the end", func(s string) string { return s + "# to here" }, all, ""},
		{"text changed", cut("two: 2", "two: 22"), "1 one: 1; 2 two: 22!; 3 three: 3; 4 four: 4; 5 five: 5", ""},
		{"text emptied", cut("two: 2\n", ""), "1 one: 1; 2 !; 3 three: 3; 4 four: 4; 5 five: 5", ""},
		{"time changed", cut("entry: 2\nrecorded: 2026", "entry: 2\nrecorded: 2025"), "1 one: 1; 2 two: 2!; 3 three: 3; 4 four: 4; 5 five: 5", ""},
		{"last text changed", cut("five: 5", "five: 55"), "1 one: 1; 2 two: 2; 3 three: 3; 4 four: 4; 5 five: 55!", ""},
		{"number changed", cut("entry: 2\n", "entry: 7\n"), "1 one: 1; 3 three: 3; 4 four: 4; 5 five: 5; 7 two: 2!",
			"9: entry 6 is missing; 15: entry 3 stands below entry 7; 15: entry 2 is missing"},
		{"entry removed", cut(part(j, 2), ""), "1 one: 1; 3 three: 3; 4 four: 4; 5 five: 5", "9: entry 2 is missing"},
		{"entries removed", cut(part(j, 2)+part(j, 3), ""), "1 one: 1; 4 four: 4; 5 five: 5", "9: entries 2 to 3 are missing"},
		{"first removed", cut(part(j, 1), ""), "2 two: 2; 3 three: 3; 4 four: 4; 5 five: 5", "3: entry 1 is missing"},
		{"entries moved", func(s string) string { return strings.Replace(s, part(j, 2)+part(j, 3), part(j, 3)+part(j, 2), 1) }, all, "15: entry 2 stands below entry 3"},
		{"entry doubled", cut(part(j, 2), part(j, 2)+part(j, 2)), all, "15: entry 2 stands here again, as on line 9"},
		{"two books put together", cut(part(j, 2), part(j, 2)+string(write([]byte("\n"), 1, sealIn(part(j, 1)), noon, texts([]string{"zwei: 2\n"})))),
			"1 one: 1; 2 two: 2; 2 zwei: 2; 3 three: 3; 4 four: 4; 5 five: 5", "15: there are two different entries 2; the other one is on line 9"},
		{"entry replaced, with a seal that fits it", cut(part(j, 2), string(write([]byte("\n"), 1, sealIn(part(j, 1)), noon, texts([]string{"two: 22\n"})))),
			"1 one: 1; 2 two: 22!; 3 three: 3; 4 four: 4; 5 five: 5", ""},
		{"entry put in by hand", cut(part(j, 3), "---\nby: hand\n"+part(j, 3)), all, "14: lines 14 to 15 are no entry: there is no number and seal below"},
		{"words put in by hand", cut(part(j, 3), "by hand\n"+part(j, 3)), all, "14: line 14 is no entry: there is no number and seal below"},
		{"mark put into a text", cut("two: 2\n", "two: 2\n---\nmore: 3\n"), "1 one: 1; 2 more: 3!; 3 three: 3; 4 four: 4; 5 five: 5",
			"8: lines 8 to 9 are no entry: there is no number and seal below"},
		{"mark above a text removed", cut("---\ntwo", "two"), all, "8: the line --- above the text of entry 2 is missing"},
		{"mark above the first text removed", cut("---\none", "one"), all, "2: the line --- above the text of entry 1 is missing"},
		{"mark below a text removed", cut("---\nentry: 2\n", "entry: 2\n"), all, "10: the line --- above “entry: 2” is missing"},
		{"seal removed", cut("seal: "+sealIn(part(j, 2))+" after "+sealIn(part(j, 1))+"\n", ""), "1 one: 1; 2 two: 2!; 3 three: 3; 4 four: 4; 5 five: 5", ""},
		{"seal garbled", cut("seal: "+sealIn(part(j, 2)), "s\x00al: "+sealIn(part(j, 2))[2:]), "1 one: 1; 2 two: 2!; 3 three: 3; 4 four: 4; 5 five: 5", ""},
		{"trailer removed", cut("---\nentry: 2\nrecorded: "+noon+"\nseal: "+sealIn(part(j, 2))+" after "+sealIn(part(j, 1))+"\n", ""),
			"1 one: 1; 3 three: 3; 4 four: 4; 5 five: 5", "8: lines 8 to 9 are no entry: there is no number and seal below; 11: entry 2 is missing"},
		{"last seal cut off by one letter", func(s string) string { return s[:len(s)-2] }, "1 one: 1; 2 two: 2; 3 three: 3",
			"20: lines 20 to 31 are no entry: the work stopped before it was recorded, or it was changed by hand"},
		{"last of two appended together not there", cut(part(j, 5), ""), "1 one: 1; 2 two: 2; 3 three: 3",
			"20: lines 20 to 25 are no entry: the work stopped before it was recorded, or it was changed by hand"},
		{"last of two appended together not there, and the other changed", func(s string) string { return cut("four: 4", "four: 44")(cut(part(j, 5), "")(s)) },
			"1 one: 1; 2 two: 2; 3 three: 3; 4 four: 44!", ""},
		{"words behind a remark and a line end of an old Macintosh", func(s string) string { return s + "# and\rwords" }, all,
			"32: lines 32 to 33 are no entry: the work stopped before it was recorded, or it was changed by hand"},
		{"nought bytes at the end", func(s string) string { return s + strings.Repeat("\x00", 4096) }, all,
			"32: line 32 is no entry: the work stopped before it was recorded, or it was changed by hand"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			damaged := tt.how(j)
			entries, damage := Parse([]byte(damaged))
			got, says := say(entries, damage)
			if got != tt.want || says != tt.say {
				t.Errorf("got  %s\nwant %s\nsays %s\nwant %s", got, tt.want, says, tt.say)
			}
			goesOn(t, damaged)
		})
	}
}

func sealIn(part string) string {
	return regexp.MustCompile("seal: ([0-9a-f]{16})").FindStringSubmatch(part)[1]
}

// goesOn fails the test if a damaged journal cannot be appended to, or if a byte of it is lost by that.
func goesOn(t *testing.T, damaged string) {
	t.Helper()
	d := &disk{data: []byte(damaged)}
	before, _ := Parse(d.data)
	old := len(before)
	first, err := (&journal{file: d, save: d.save}).append(noon, -1, texts([]string{"added: yes\n"}))
	if err != nil {
		t.Fatal(err)
	}
	after, _ := Parse(d.data)
	if len(after) != old+1 || after[old].Number != first || after[old].Changed || string(after[old].Text) != "added: yes\n" {
		got, _ := say(after, nil)
		t.Errorf("after the next append: %s", got)
	}
	if diff := cmp.Diff(before, after[:min(old, len(after))]); diff != "" {
		t.Error("the next append changed what was there:\n" + diff)
	}
	if !strings.HasPrefix(damaged, string(d.data[:len(damaged)-len(d.torn)])) || !strings.HasSuffix(damaged, d.torn) {
		t.Errorf("bytes were lost: torn %q", d.torn)
	}
}

// Any few bytes anywhere may change: what is not hit is read, and what is hit is never read as good.
func TestFlippedBytes(t *testing.T) {
	data := many(60)
	good, _ := Parse(data)
	rnd := rand.New(rand.NewSource(6))
	kept := 0
	for range 1000 {
		bad := bytes.Clone(data)
		for range 1 + rnd.Intn(3) {
			bad[rnd.Intn(len(bad))] ^= byte(1 + rnd.Intn(255))
		}
		entries, damage := Parse(bad)
		clean := len(damage) == 0
		for _, e := range entries {
			if e.Changed {
				clean = false
				continue
			}
			kept++
			if diff := cmp.Diff(string(good[e.Number-1].Text), string(e.Text)); diff != "" {
				t.Fatalf("entry %d is read as unchanged, but is not:\n%s", e.Number, diff)
			}
		}
		if clean && !bytes.Equal(normalise(bad), data) && len(entries) == len(good) && strings.Contains(string(bad), head) {
			t.Fatal("a change did not show")
		}
	}
	// Three entries can be hit, and the neighbours of a mark that is.
	if kept < 1000*(60-6) {
		t.Errorf("of 60,000 entries only %d were read", kept)
	}
}

// A journal cut off anywhere keeps what is whole, and is appended to on the real disk.
func TestCutAnywhere(t *testing.T) {
	data := []byte(five())
	ends := []int{0}
	for i := range 5 {
		end := strings.Index(string(data), part(string(data), i+1)) + len(part(string(data), i+1))
		if i != 3 { // the fourth counts only with the fifth
			ends = append(ends, end)
		}
	}
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, Folder), 0o755); err != nil {
		t.Fatal(err)
	}
	for at := range len(data) + 1 {
		if at%19 == 0 { // the disk is slow: every cut in memory, some there
			if err := os.WriteFile(filepath.Join(dir, File), data[:at], 0o644); err != nil {
				t.Fatal(err)
			}
			n := mustAppend(t, dir, "added: yes\n")
			entries, damage := mustRead(t, dir)
			if len(damage) > 0 || len(entries) != n || entries[n-1].Number != n {
				t.Fatalf("cut at %d: %d entries, the added one has the number %d; %v", at, len(entries), n, damage)
			}
		}
		want := 0
		for i, end := range ends {
			if at >= end-1 { // the last line end may be missing
				want = []int{0, 1, 2, 3, 5}[i]
			}
		}
		entries, _ := Parse(data[:at])
		if len(entries) != want {
			t.Errorf("cut at %d: %d entries, want %d", at, len(entries), want)
		}
		goesOn(t, string(data[:at]))
	}
}

func FuzzParse(f *testing.F) {
	j := five()
	for _, s := range []string{"", j, strings.ReplaceAll(j, "\n", "\r\n"), j[:len(j)-20], strings.Replace(j, part(j, 2), "", 1), "---\r---\rentry: 1\r", "\ufeff# a\n---\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		entries, damage := Parse(data)
		rows := bytes.Count(normalise(data), []byte("\n")) + 1
		for i, e := range entries {
			if i > 0 && entries[i-1].Number > e.Number || e.Line < 1 || e.Line > rows {
				t.Errorf("entry %d, line %d of %d", e.Number, e.Line, rows)
			}
		}
		for _, d := range damage {
			if d.Line < 1 || d.Line > rows || d.Message == "" || d.Cure == "" {
				t.Errorf("%+v of %d lines", d, rows)
			}
		}
		goesOn(t, string(data))
	})
}
