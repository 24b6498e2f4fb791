package label

import (
	"panelwright/formula/finding"
	"panelwright/inci"
)

// add adds what a row of a list of substances decides. Unverified rows do not
// hold the print back (S27): what one would ask becomes a warning, and what one
// would forbid becomes a warning that says so.
func (j *limitJudge) add(f finding.Finding, l *inci.Limit) {
	if f.Severity >= finding.Question && unread(l) {
		f.Severity = finding.Warning
		if !l.Question {
			f.Message += "; the row was not seen in its source and does not hold the print back"
			f.Cure = "look it up, and if it is so: " + f.Cure
		}
	}
	j.x.add(f)
}

// unread reports whether a row is too little known to hold the print back: known
// from memory alone, or one that merely asks and is not known from its own text.
//
// A figure that another text quotes, or that Great Britain took over from a text
// that was read, is marked as unverified and decides as any other: a verified text
// says the same. So does a substance that a list does not name, which was seen in
// the list. The lists of prohibited substances hold no row from memory, and what
// they forbid is never let down here.
func unread(l *inci.Limit) bool {
	absent := l.Entry == ""
	switch {
	case l.Question:
		return l.Source.Unverified()
	case absent:
		return false
	}
	return l.Source.Seen == finding.Memory
}
