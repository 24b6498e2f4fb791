package pdf

import (
	"bytes"
	"compress/zlib"
	"strconv"
	"sync"
)

// content is what is drawn on a page, as it stands in the file. It is written past the library, which would keep
// the operators of all pages as they are, and make a new compressor of 1.3 MB for each.
type content struct {
	packed bool
	bytes  []byte
}

// compressors are kept for the next page, of whatever file.
var compressors = sync.Pool{New: func() any {
	z, err := zlib.NewWriterLevel(nil, zlib.BestSpeed)
	if err != nil {
		panic(err) // there is such a level
	}
	return z
}}

// pack returns the operators of a page as content.
func pack(operators []byte) content {
	var out bytes.Buffer
	out.Grow(len(operators) / 3) // about what becomes of them
	z := compressors.Get().(*zlib.Writer)
	defer compressors.Put(z)
	z.Reset(&out)
	z.Write(operators)
	z.Close() // a buffer takes all that is written
	return content{true, out.Bytes()}
}

// content writes what is drawn on a page, or another stream of the kind that says more of itself in its head.
func (f *file) content(number int, head string, c content) {
	f.begin(number)
	f.buf = append(append(f.buf, "<<"...), head...)
	if c.packed {
		f.buf = append(f.buf, "/Filter/FlateDecode"...)
	}
	f.buf = append(f.buf, "/Length "...)
	f.buf = strconv.AppendInt(f.buf, int64(len(c.bytes)), 10)
	f.buf = append(f.buf, ">>\nstream\n"...)
	f.flush()
	f.write(c.bytes)
	f.buf = append(f.buf, "\nendstream\nendobj\n"...)
}
