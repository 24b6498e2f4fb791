package book

import (
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A Reader says of a book what a first reading says of it, whatever it read before: a line more above, an edit, an
// error made and mended.
func TestReaderReadsAfresh(t *testing.T) {
	const shop = "workshop: Example Bath Works\ncountry: US\nsell in: [us]\n"
	const rest = "---\nmaterial: hay scent\nclass: fragrance\nallergens: {Linalool: 4.2 %}\n---\nformula: mix\nmix:\n  - baking soda: 90 g\n  - hay scent: 1 g\n"
	const goods = "---\nproduct: fizz\ntype: bath fizz\nexposure: rinse-off\npiece: {mix: 80 g}\nnet: 80 g\n"
	var r Reader
	for _, text := range []string{
		shop + rest + goods,
		shop + rest + goods,
		"# a line more\n\n" + shop + rest + goods,
		shop + rest + goods + "batch: none\n",                           // an unknown key
		shop + goods,                                                    // the formula is gone
		shop + rest + goods + goods,                                     // the same name twice
		shop + rest + "--- fizz\n" + goods[4:],                          // a lost document
		shop + rest + goods + "colour: [red\n",                          // cannot be read
		shop + rest + "---\nanswer: x\n" + goods + "keeps: 18 months\n", // a thing to say, and an edit
		shop + rest + goods,
	} {
		files := []File{{"book.yaml", []byte(text)}}
		want, wantOut := LoadFiles(files)
		got, gotOut := r.load(nil, files)
		if diff := cmp.Diff(lines(wantOut), lines(gotOut)); diff != "" {
			t.Errorf("%s\nfindings (-first +again):\n%s", text, diff)
		}
		if !reflect.DeepEqual(want, got) {
			t.Errorf("%s\nthe books differ", text)
		}
	}
	// What did not change is not parsed again.
	before := r.kept[goods[4:]].root
	r.load(nil, []File{{"other.yaml", []byte(goods[4:] + rest)}})
	if after := r.kept[goods[4:]].root; before == nil || before != after {
		t.Error("a document was parsed again that had not changed")
	}
}
