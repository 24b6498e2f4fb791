package pdf

import (
	"encoding/binary"
	"fmt"
	"strconv"
)

// The objects of the tags are many, small and much alike. They are bundled, a few hundred in a stream that is
// compressed as one (PDF 1.7, 7.5.7): a twentieth of their size.

// bundles is the state of that.
type bundles struct {
	plain   bool // bundles are not compressed
	open    bool // objects that begin go into the bundle
	into    int  // number of the bundle
	members []int
	starts  []int // of each member in the bundle
}

// bundled is how many objects a bundle holds.
const bundled = 400

// bundleFrom has the objects that follow go into bundles, numbered from next on: all their own numbers are lower.
func (f *file) bundleFrom(next int) {
	f.flush()
	f.open, f.into = true, next
}

// member starts an object of the bundle, of a new one where it is full.
func (f *file) member(number int) {
	if len(f.members) == bundled {
		next := f.into + 1
		f.bundleEnd()
		f.bundleFrom(next)
	}
	f.place[number] = place{at: len(f.members), bundle: f.into}
	f.members, f.starts = append(f.members, number), append(f.starts, len(f.buf))
}

// bundleEnd writes the bundle; objects go into the file again.
func (f *file) bundleEnd() {
	var all []byte
	for i, m := range f.members {
		all = append(strconv.AppendInt(all, int64(m), 10), ' ')
		all = append(strconv.AppendInt(all, int64(f.starts[i]), 10), ' ')
	}
	first := len(all)
	all = append(all, f.buf...)
	head := fmt.Sprintf("/Type/ObjStm/N %d/First %d", len(f.members), first)
	f.open, f.buf, f.members, f.starts = false, f.buf[:0], f.members[:0], f.starts[:0]
	f.content(f.into, head, f.packed(all))
}

// packed returns a stream, compressed unless the file is to be plain.
func (f *file) packed(b []byte) content {
	if f.plain {
		return content{bytes: b}
	}
	return pack(b)
}

// table writes the table of places, which is a stream too, and the end of the file, whose root is object n. An entry
// has a byte of its kind (1 for a place in the file, 2 for one in a bundle), four bytes and two more.
func (f *file) table(n int) {
	number := len(f.place)
	start := f.at + len(f.buf)
	f.place = append(f.place, place{at: start})
	rows := []byte{0, 0, 0, 0, 0, 0xFF, 0xFF} // object 0 is none
	for _, p := range f.place[1:] {
		kind, wide, narrow := byte(1), p.at, 0
		if p.bundle > 0 {
			kind, wide, narrow = 2, p.bundle, p.at
		}
		rows = binary.BigEndian.AppendUint32(append(rows, kind), uint32(wide))
		rows = binary.BigEndian.AppendUint16(rows, uint16(narrow))
	}
	f.content(number, fmt.Sprintf("/Type/XRef/Size %d/W[1 4 2]/Root %d 0 R/Info %d 0 R", len(f.place), n, n-1), f.packed(rows))
	f.buf = fmt.Appendf(f.buf, "startxref\n%d\n%%%%EOF\n", start)
	f.flush()
}
