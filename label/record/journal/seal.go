package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
)

// sealLength is the number of hexadecimal digits of a seal: 64 bits show any accident, and can be compared by eye.
const sealLength = 16

// noSeal stands before the first entry.
const noSeal = "0000000000000000"

// mostNumber is the greatest number an entry may have.
const mostNumber = 999_999_999

// trailer is the short document below an entry.
type trailer struct {
	number      int
	first, last int // of the documents appended together; both number if it was alone
	recorded    string
	seal, after string // empty if the line could not be read
}

// sealOf works out the seal of a text whose line ends are normalised.
func (t *trailer) sealOf(text []byte) string {
	b := make([]byte, 0, 128)
	b = append(append(b, t.after...), '\n')
	b = append(strconv.AppendInt(b, int64(t.number), 10), ' ')
	b = append(strconv.AppendInt(b, int64(t.first), 10), ' ')
	b = append(strconv.AppendInt(b, int64(t.last), 10), '\n')
	b = append(append(b, t.recorded...), '\n')
	h := sha256.New()
	h.Write(b)
	h.Write(text)
	return hex.EncodeToString(h.Sum(b[:0])[:sealLength/2])
}

// append writes the trailer, the line that ends the document included.
func (t *trailer) append(b []byte) []byte {
	b = append(b, "---\nentry: "...)
	b = strconv.AppendInt(b, int64(t.number), 10)
	if t.first != t.last {
		b = fmt.Appendf(b, " of %d-%d", t.first, t.last)
	}
	return fmt.Appendf(b, "\nrecorded: %s\nseal: %s after %s\n", t.recorded, t.seal, t.after)
}

// parseEntry reads the value of “entry:”, as in 17 or 17 of 17-19.
func (t *trailer) parseEntry(v string) bool {
	number, batch, together := strings.Cut(v, " of ")
	n, ok := parseNumber(number)
	t.number, t.first, t.last = n, n, n
	if !ok || !together {
		return ok
	}
	first, last, _ := strings.Cut(batch, "-")
	a, ok1 := parseNumber(first)
	z, ok2 := parseNumber(last)
	t.first, t.last = a, z
	return ok1 && ok2 && a <= n && n <= z && a < z
}

// parseNumber reads a number from 1 as Append writes it.
func parseNumber(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && 1 <= n && n <= mostNumber && strconv.Itoa(n) == s
}

// parseSeal reads the value of “seal:”.
func (t *trailer) parseSeal(v string) bool {
	seal, after, ok := strings.Cut(v, " after ")
	if !ok || !isSeal(seal) || !isSeal(after) {
		return false
	}
	t.seal, t.after = seal, after
	return true
}

func isSeal(s string) bool {
	if len(s) != sealLength {
		return false
	}
	for _, c := range []byte(s) {
		if (c < '0' || '9' < c) && (c < 'a' || 'f' < c) {
			return false
		}
	}
	return true
}

// normalise turns every line end into a line feed. It returns text itself where there is nothing to do.
func normalise(text []byte) []byte {
	if bytes.IndexByte(text, '\r') < 0 {
		return text
	}
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	return bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
}
