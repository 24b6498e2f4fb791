package finding

import (
	"encoding/json"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPos(t *testing.T) {
	for _, tt := range []struct {
		pos  Pos
		want string
	}{
		{Pos{}, ""},
		{Pos{Line: 3, Col: 4}, ""},
		{Pos{File: "book.yaml"}, "book.yaml"},
		{Pos{File: "book.yaml", Col: 4}, "book.yaml"},
		{Pos{File: "book.yaml", Line: 12}, "book.yaml:12"},
		{Pos{File: "book.yaml", Line: 12, Col: 4}, "book.yaml:12:4"},
	} {
		if got := tt.pos.String(); got != tt.want {
			t.Errorf("%#v: %q, want %q", tt.pos, got, tt.want)
		}
	}
}

func TestLine(t *testing.T) {
	at := Pos{File: "book.yaml", Line: 12, Col: 4}
	for _, tt := range []struct {
		name string
		f    Finding
		want string
	}{
		{"all", Finding{Where: at, Message: "4,2 %: a comma", Cure: "write 4.2 %"}, "book.yaml:12:4: 4,2 %: a comma; write 4.2 %"},
		{"no cure", Finding{Where: at, Message: "a comma"}, "book.yaml:12:4: a comma"},
		{"no place", Finding{Message: "a comma", Cure: "write a point"}, "a comma; write a point"},
		{"one line always", Finding{Where: at, Message: "read\n\t\"a\r\nb\"", Cure: " one\n line "}, "book.yaml:12:4: read \"a b\"; one line"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.f.Line(); got != tt.want {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}

// sorted is in the order of Sort: each differs from the one before in one thing.
var sorted = List{
	{Severity: Error, Rule: "b", Product: "", Message: "of the book"},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"a.yaml", 9, 1}},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"a.yaml", 10, 1}},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"a.yaml", 10, 2}},
	{Severity: Error, Rule: "a", Product: "fizz", Market: "eu", Where: Pos{"b.yaml", 1, 1}},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"b.yaml", 1, 1}, Message: "m"},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"b.yaml", 1, 1}, Message: "n", Cure: "c"},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"b.yaml", 1, 1}, Message: "n", Cure: "d"},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"b.yaml", 1, 1}, Message: "n", Cure: "d", Source: Citation{"x", Memory}},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "eu", Where: Pos{"b.yaml", 1, 1}, Message: "n", Cure: "d", Source: Citation{"x", Yes}},
	{Severity: Error, Rule: "b", Product: "fizz", Market: "us"},
	{Severity: Error, Rule: "b", Product: "salt", Market: "eu"},
	{Severity: Question, Rule: "a"},
	{Severity: Warning, Rule: "a"},
	{Severity: Note, Rule: "a"},
}

// The same findings in any order, some of them twice, sort to the same list.
func TestSort(t *testing.T) {
	byPlace := List{}
	for _, at := range []int{0, 10, 11, 12, 13, 14, 1, 2, 3, 4, 5, 6, 7, 8, 9} {
		byPlace = append(byPlace, sorted[at])
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		l := append(append(List{}, sorted...), sorted[rnd.IntN(len(sorted))], sorted[rnd.IntN(len(sorted))])
		rnd.Shuffle(len(l), func(i, j int) { l[i], l[j] = l[j], l[i] })
		m := append(List{}, l...)
		l.Sort()
		if d := cmp.Diff(sorted, l); d != "" {
			t.Fatalf("Sort (-want +got):\n%s", d)
		}
		m.SortByPlace()
		if d := cmp.Diff(byPlace, m); d != "" {
			t.Fatalf("SortByPlace (-want +got):\n%s", d)
		}
	}
}

func TestVerdict(t *testing.T) {
	for _, tt := range []struct {
		name   string
		of     []Severity
		want   string
		prints bool
	}{
		{"nothing", nil, "PRINT", true},
		{"notes and warnings", []Severity{Note, Warning, Warning}, "PRINT", true},
		{"one question", []Severity{Question, Warning}, "ANSWER 1 QUESTION FIRST", false},
		{"two questions", []Severity{Question, Note, Question}, "ANSWER 2 QUESTIONS FIRST", false},
		{"an error", []Severity{Error}, "DO NOT PRINT", false},
		{"an error and questions", []Severity{Question, Error, Question}, "DO NOT PRINT", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var l List
			for _, s := range tt.of {
				l.Add(Finding{Severity: s})
			}
			v := l.Verdict()
			if v.String() != tt.want || v.Prints() != tt.prints {
				t.Errorf("%s, prints %v; want %s, prints %v", v, v.Prints(), tt.want, tt.prints)
			}
			if js, err := json.Marshal(v); err != nil || string(js) != `"`+tt.want+`"` {
				t.Errorf("JSON %s, %v", js, err)
			}
		})
	}
}

func TestCount(t *testing.T) {
	l := List{{Severity: Error}, {Severity: Note}, {Severity: Error}}
	for s, want := range map[Severity]int{Error: 2, Question: 0, Warning: 0, Note: 1} {
		if got := l.Count(s); got != want {
			t.Errorf("%s: %d, want %d", s, got, want)
		}
	}
}

func TestCitation(t *testing.T) {
	for _, tt := range []struct {
		c          Citation
		want       string
		unverified bool
	}{
		{Citation{}, "", false},
		{Citation{"Art. 19", Yes}, "Art. 19", false},
		{Citation{"Art. 19", Practice}, "Art. 19", false},
		{Citation{"Art. 19", Secondary}, "Art. 19 (unverified: secondary)", true},
		{Citation{"Art. 19", Memory}, "Art. 19 (unverified: memory)", true},
	} {
		if tt.c.String() != tt.want || tt.c.Unverified() != tt.unverified {
			t.Errorf("%#v: %q, unverified %v", tt.c, tt.c, tt.c.Unverified())
		}
	}
}

func TestJSON(t *testing.T) {
	js, err := json.Marshal(struct {
		S Severity
		P Pos
		C Citation
	}{Question, Pos{"book.yaml", 3, 0}, Citation{"Art. 19", Yes}})
	want := `{"S":"question","P":"book.yaml:3","C":{"text":"Art. 19","seen":"yes"}}`
	if err != nil || string(js) != want {
		t.Errorf("%s, %v; want %s", js, err, want)
	}
}
