package book

import "regexp"

// lostName is a name that a document which could not be read would have given
// to the book. It is known by its looks, so that lines which use it are not
// called wrong as well.
type lostName struct{ kind, name string }

var (
	lostKind   = regexp.MustCompile(`(?m)^(material|formula|product|range|set|layout):[ \t]*["']?([^"'\n#]{1,200})`)
	lostMember = regexp.MustCompile(`(?m)^[ \t]*-[ \t]*\{?[ \t]*name:[ \t]*["']?([^"'\n#,}]{1,200})`)
)

// How far into a document the names are looked for: enough for what a person
// wrote, little for what a hostile file holds.
const (
	lostKindBytes   = 4 << 10
	lostMemberBytes = 1 << 20
)

func lostNames(d *document) (all []lostName) {
	beginning := func(most int) string { return d.head + "\n" + string(d.text[:min(len(d.text), most)]) }
	for _, m := range lostKind.FindAllStringSubmatch(beginning(lostKindBytes), -1) {
		all = append(all, lostName{m[1], m[2]})
		if m[1] != "range" {
			continue
		}
		for _, m := range lostMember.FindAllStringSubmatch(beginning(lostMemberBytes), -1) {
			all = append(all, lostName{"member", m[1]})
		}
	}
	return all
}

// registerLost enters the names of a document that could not be read.
func (l *loader) registerLost(p *page) {
	for _, n := range p.lost {
		key := foldName(n.name)
		switch {
		case n.kind == "layout":
			if l.badLook == nil {
				l.badLook = map[string]bool{}
			}
			l.badLook[key] = true
		case n.kind == "material" || n.kind == "formula":
			if l.own[key] == nil {
				l.own[key] = &thing{name: n.name, page: p, torn: true}
			}
		case l.goods[key] == nil:
			l.goods[key] = &good{name: n.name, page: p, kind: n.kind, torn: true, hidden: true, state: 2}
		}
	}
}
