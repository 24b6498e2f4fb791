package quantity

import "fmt"

// Error says why an amount could not be read. Every error of this package is
// an *Error.
type Error struct {
	Read  string // what was read, as written
	Wrong string // what is wrong with it
	Cure  string // what to write instead
}

// Error returns what was read, what is wrong and the cure in one line.
func (e *Error) Error() string {
	return fmt.Sprintf("“%s”: %s; %s", shorten(e.Read), e.Wrong, e.Cure)
}

// shorten keeps a message readable when a whole paragraph stands where an
// amount should.
func shorten(s string) string {
	const most = 60
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most]) + "…"
}
