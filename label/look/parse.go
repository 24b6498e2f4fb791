package look

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/label/font"
)

// Words of the format, by value.
var (
	aligns = map[string]Align{"as suits": AsSuits, "centre": Centre, "center": Centre, "left": Left}
	frames = map[string]Frame{"none": NoFrame, "single": Single, "double": Double, "beads": Beads, "leaves": Leaves}
	blocks = map[string]Block{"none": NoBlock, "name": BlockName}
	rules  = map[string]Rules{"as suits": RulesAsSuit, "none": NoRules, "short": Short, "every": Every}
	motifs = map[string]Motif{"none": NoMotif, "diamond": Diamond, "leaf": Leaf, "dots": Dots}
	faces  = map[string]*font.Face{
		"serif": font.Display, "carved": font.Carved, "slab": font.Slab, "italic": font.Italic,
		"text": font.Text, "bold": font.TextBold, "semi": font.Semi, "semi bold": font.SemiBold,
		"condensed": font.Condensed, "condensed bold": font.CondensedBold,
	}
	cases = map[string]bool{"as written": false, "upper": true}
)

// keys are the keys of a layout file.
var keys = []string{"layout", "about", "align", "frame", "block", "rules", "motif", "strip", "pad", "wide", "band", "order",
	"name", "identity", "leads"}

// mostBytes bounds a layout file.
const mostBytes = 64 << 10

// Parse reads a layout file. File is its name for messages, which say the line, what was read and what may
// stand there.
func Parse(file string, data []byte) (*Look, error) {
	if len(data) > mostBytes {
		return nil, fmt.Errorf("%s: a layout file has a few hundred bytes, this one %d", file, len(data))
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, fmt.Errorf("%s: %s", file, strings.TrimPrefix(err.Error(), "yaml: "))
	}
	if len(doc.Content) == 0 || doc.Content[0].Kind != yaml.MappingNode {
		return nil, fmt.Errorf("%s: a layout file begins with layout: and its name", file)
	}
	l, at, err := Read(doc.Content[0])
	if err != nil {
		return nil, fmt.Errorf("%s:%d: %w", file, at.Line, err)
	}
	return l, nil
}

// Read reads a layout file that has been parsed, a mapping. The error comes with the node it is about.
func Read(root *yaml.Node) (*Look, *yaml.Node, error) {
	l := &Look{}
	c := root.Content
	for i := 0; i+1 < len(c); i += 2 {
		if err := l.set(c[i].Value, c[i+1]); err != nil {
			return nil, c[i], fmt.Errorf("%s: %w", c[i].Value, err)
		}
	}
	if l.Name == "" {
		return nil, root, fmt.Errorf("the layout has no name; begin it with layout: and a name")
	}
	return l, nil, nil
}

// set reads one key.
func (l *Look) set(key string, n *yaml.Node) (err error) {
	switch key {
	case "layout":
		l.Name, err = n.Value, scalar(n)
	case "about":
		l.About, err = n.Value, scalar(n)
	case "align":
		l.Align, err = word(n, aligns)
	case "frame":
		l.Frame, err = word(n, frames)
	case "block":
		l.Block, err = word(n, blocks)
	case "rules":
		l.Rules, err = word(n, rules)
	case "motif":
		l.Motif, err = word(n, motifs)
	case "strip":
		l.Strip, err = percent(n, 10, 0, 20)
	case "pad":
		l.Pad, err = percent(n, 10, 0, 10)
	case "wide":
		l.Wide, err = shares(n, 20, 60)
	case "band":
		l.Band, err = shares(n, 20, 60)
	case "order":
		l.Order, err = order(n)
	case "name":
		l.Title, err = setting(n)
	case "identity":
		l.Identity, err = setting(n)
	case "leads":
		l.Leads, err = setting(n)
	default:
		err = unknown("key of a layout file", key, keys)
	}
	return err
}

// setting reads how a statement is set: {face: carved, case: upper, size: 90 %, space: 4 %}.
func setting(n *yaml.Node) (t Type, err error) {
	if n.Kind != yaml.MappingNode {
		return t, fmt.Errorf("write it as in {face: serif, case: upper, size: 90 %%, space: 4 %%}")
	}
	for i := 0; i+1 < len(n.Content) && err == nil; i += 2 {
		v := n.Content[i+1]
		switch key := n.Content[i].Value; key {
		case "face":
			t.Face, err = word(v, faces)
		case "case":
			t.Upper, err = word(v, cases)
		case "size":
			t.Size, err = percent(v, 1, 40, 140)
		case "space":
			t.Space, err = percent(v, 10, 0, 40)
		default:
			err = unknown("key here", key, []string{"face", "case", "size", "space"})
		}
	}
	return t, err
}

func scalar(n *yaml.Node) error {
	if n.Kind != yaml.ScalarNode || strings.TrimSpace(n.Value) == "" {
		return fmt.Errorf("write it as one text")
	}
	return nil
}

// word reads one of a few words.
func word[T any](n *yaml.Node, words map[string]T) (T, error) {
	v, ok := words[strings.Join(strings.Fields(strings.ToLower(n.Value)), " ")]
	if n.Kind != yaml.ScalarNode || !ok {
		var all []string
		for w := range words {
			all = append(all, w)
		}
		slices.Sort(all)
		return v, unknown("choice", n.Value, all)
	}
	return v, nil
}

// percent reads a percentage from least to most and returns it in parts a percent.
func percent(n *yaml.Node, parts, least, most int) (int, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(n.Value), "%"))
	whole, part, _ := strings.Cut(number, ".")
	v, err := strconv.Atoi(whole)
	v *= parts
	if part != "" && err == nil {
		var tenths int
		tenths, err = strconv.Atoi(part)
		if len(part) > 1 || parts != 10 {
			err = strconv.ErrSyntax
		}
		v += tenths
	}
	if n.Kind != yaml.ScalarNode || err != nil || !strings.Contains(n.Value, "%") || v < least*parts || v > most*parts {
		return 0, fmt.Errorf("%q is not understood; write a percentage from %d %% to %d %%", n.Value, least, most)
	}
	return v, nil
}

func shares(n *yaml.Node, least, most int) (all []int, err error) {
	list := n.Content
	if n.Kind == yaml.ScalarNode {
		list = []*yaml.Node{n}
	}
	for _, c := range list {
		v, err := percent(c, 1, least, most)
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("write the share of the front, the best first, as in [42 %%, 36 %%]")
	}
	return all, nil
}

// order reads the order of the small print. What it leaves out follows in the usual order.
func order(n *yaml.Node) (all []Role, err error) {
	if n.Kind != yaml.SequenceNode {
		return nil, fmt.Errorf("write it as in [list, directions, cautions]")
	}
	var words []string
	for _, r := range roles {
		words = append(words, string(r))
	}
	for _, c := range n.Content {
		r := Role(c.Value)
		if !slices.Contains(roles, r) {
			return nil, unknown("kind of small print", c.Value, words)
		}
		if slices.Contains(all, r) {
			return nil, fmt.Errorf("%s stands twice", r)
		}
		all = append(all, r)
	}
	for _, r := range roles {
		if !slices.Contains(all, r) {
			all = append(all, r)
		}
	}
	return all, nil
}

// unknown says that a word is none of those known, and which is nearest.
func unknown(what, word string, known []string) error {
	if near := nearest(word, known); near != "" {
		return fmt.Errorf("%q is no %s; did you mean %s?", word, what, near)
	}
	return fmt.Errorf("%q is no %s; write one of %s", word, what, strings.Join(known, ", "))
}
