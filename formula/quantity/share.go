package quantity

import (
	"strings"

	"panelwright/formula/exact"
)

// Share is what a supplier's sheet says of one substance, as fractions of the
// material: 0 <= Lo <= Hi <= 1.
type Share struct {
	Lo, Hi      exact.Rat
	Typical     exact.Rat // read only if Stated
	Stated      bool      // the sheet gives a figure of its own: one number, or "typical"
	Rest        bool      // "rest": whatever the others leave; Lo and Hi are 0 and 1
	NotDetected bool      // "nd" without a limit: Lo and Hi are 0, and nobody said below what
	Text        string    // as written
}

// ParseShare reads a figure of a supplier's sheet: 4.2 %, 0.5-1.2 %, "50 to 62
// %, typical 55 %", <0.1 %, up to 5 %, at least 95 %, >=10 - <25 %, 120 ppm,
// nd, nd <10 ppm, rest. "<0.1 %" is 0 to 0.1 %; "nd" with a detection limit is
// 0 to that limit. Traces are refused: ask for a figure. Every error is an
// *Error.
func ParseShare(text string) (Share, error) {
	sc := &scanner{s: plain(text)}
	sh := Share{Text: strings.TrimSpace(text)}
	if sc.s == "" {
		return sh, &Error{Read: text, Wrong: "there is no share", Cure: "write one, such as 4.2 % or 0.5-1.2 %"}
	}
	whole := *sc
	if _, ok := whole.unit(Rest); ok && whole.after() == "" {
		sh.Rest, sh.Hi = true, exact.Int(1)
		return sh, nil
	}
	if sc.notDetected() {
		return sh, sc.detectionLimit(&sh)
	}
	if w := strings.ToLower(strings.Trim(sc.s, ". ")); traces[w] {
		return sh, &Error{Read: text, Wrong: "traces are not a figure", Cure: "ask the supplier for one, such as <0.01 % or nd <10 ppm"}
	}
	if err := sc.span(&sh); err != nil {
		return sh, err
	}
	if err := sc.typical(&sh); err != nil {
		return sh, err
	}
	if after := sc.after(); after != "" {
		return sh, &Error{Read: text, Wrong: "“" + after + "” after the share is not understood",
			Cure: "write the share alone, such as 4.2 % or 0.5-1.2 %"}
	}
	return sh, sh.check()
}

var traces = map[string]bool{"trace": true, "traces": true, "tr": true, "in traces": true, "+": true, "present": true,
	"yes": true, "contains": true, "may contain": true, "unknown": true, "n/a": true, "na": true, "?": true, "-": true}

// check refuses what no share can be.
func (sh *Share) check() error {
	one := exact.Int(1)
	switch {
	case sh.Hi.Less(sh.Lo):
		return &Error{Read: sh.Text, Wrong: "the range runs backwards", Cure: "write the smaller figure first"}
	case one.Less(sh.Hi):
		return &Error{Read: sh.Text, Wrong: "that is more than 100 %", Cure: "write the share of the material, at most 100 %"}
	case sh.Stated && (sh.Typical.Less(sh.Lo) || sh.Hi.Less(sh.Typical)):
		return &Error{Read: sh.Text, Wrong: "the typical figure lies outside the range", Cure: "check both against the sheet"}
	}
	return nil
}

func (sc *scanner) notDetected() bool {
	for _, w := range []string{"not detected", "none detected", "not detectable", "n.d.", "n.d", "n/d", "nd"} {
		if sc.word(w) {
			return true
		}
	}
	return false
}

// detectionLimit reads what follows "nd": nothing, or a limit.
func (sc *scanner) detectionLimit(sh *Share) error {
	sc.space()
	sc.eat(',')
	sc.space()
	open := sc.eat('(')
	if sc.after() == "" && !open {
		sh.NotDetected = true
		return nil
	}
	for _, w := range []string{"detection limit", "limit", "lod", "loq", "below", "at", "under", "less than"} {
		sc.space()
		if sc.word(w) {
			break
		}
	}
	sc.space()
	sc.eat(':')
	sc.inequality()
	limit, err := sc.bound(sh.Text)
	if err != nil {
		return err
	}
	if open && !sc.eat(')') || sc.after() != "" {
		return &Error{Read: sh.Text, Wrong: "what follows “nd” is not understood", Cure: "write nd, or nd with the limit: nd <10 ppm"}
	}
	if limit.Unit.Symbol == "" {
		return sc.noUnit(sh.Text, OfWhole, OfSheet)
	}
	sh.Hi = limit.Value()
	return sh.check()
}

// inequality eats a sign or words and returns '<' or '>' for an upper or a
// lower bound, 0 for none.
func (sc *scanner) inequality() byte {
	sc.space()
	for _, w := range inequalities {
		if sc.word(w.word) {
			sc.space()
			sc.eat('=')
			sc.eat('.')
			return w.side
		}
	}
	return 0
}

var inequalities = []struct {
	word string
	side byte
}{
	{"<", '<'}, {"≤", '<'}, {"not more than", '<'}, {"less than", '<'}, {"at most", '<'}, {"below", '<'}, {"under", '<'}, {"up to", '<'},
	{"maximum", '<'}, {"max", '<'}, {">", '>'}, {"≥", '>'}, {"not less than", '>'}, {"more than", '>'}, {"at least", '>'}, {"above", '>'},
	{"over", '>'}, {"minimum", '>'}, {"min", '>'},
}

// bound reads a number and, if there is one, its unit.
func (sc *scanner) bound(text string) (Quantity, error) {
	sc.space()
	n, err := sc.number(text)
	if err != nil {
		return Quantity{}, err
	}
	if err := sc.refused(text, true); err != nil {
		return Quantity{}, err
	}
	u, _ := sc.unit(OfWhole, OfSheet)
	return Quantity{Number: n, Unit: u}, nil
}

// rangeMark eats what stands between the ends of a range.
func (sc *scanner) rangeMark() bool {
	sc.space()
	for _, w := range []string{"-", "to", "...", "…", "till", "until"} {
		if sc.word(w) {
			return true
		}
	}
	return false
}

// span reads one figure, a range, or a bound on one side.
func (sc *scanner) span(sh *Share) error {
	sc.word("between")
	side := sc.inequality()
	a, err := sc.bound(sh.Text)
	if err != nil {
		return err
	}
	ahead := *sc
	switch {
	case ahead.plusMinus():
		*sc = ahead
		return sc.tolerance(sh, a)
	case side != '<' && ahead.rangeMark(), side == 0 && ahead.word("and"):
		*sc = ahead
		if sc.inequality() == '>' {
			return &Error{Read: sh.Text, Wrong: "the range has two lower ends", Cure: "write it as in 0.5-1.2 %"}
		}
		b, err := sc.bound(sh.Text)
		if err != nil {
			return err
		}
		if a.Unit.Symbol == "" {
			a.Unit = b.Unit
		}
		if a.Unit.Symbol == "" || b.Unit.Symbol == "" {
			return sc.noUnit(sh.Text, OfWhole, OfSheet)
		}
		sh.Lo, sh.Hi = a.Value(), b.Value()
		return nil
	case a.Unit.Symbol == "":
		return sc.noUnit(sh.Text, OfWhole, OfSheet)
	}
	switch side {
	case '<':
		sh.Hi = a.Value()
	case '>':
		sh.Lo, sh.Hi = a.Value(), exact.Int(1)
		if sh.Hi.Less(sh.Lo) {
			sh.Hi = sh.Lo // check says what is wrong
		}
	default:
		sh.Lo, sh.Hi, sh.Typical, sh.Stated = a.Value(), a.Value(), a.Value(), true
	}
	return nil
}

func (sc *scanner) plusMinus() bool {
	sc.space()
	return sc.word("±") || sc.word("+/-")
}

// tolerance reads the 0.5 % of "5 % ± 0.5 %", in points of the share.
func (sc *scanner) tolerance(sh *Share, a Quantity) error {
	b, err := sc.bound(sh.Text)
	if err != nil {
		return err
	}
	if a.Unit.Symbol == "" {
		a.Unit = b.Unit
	}
	if a.Unit.Symbol == "" || b.Unit.Symbol == "" {
		return sc.noUnit(sh.Text, OfWhole, OfSheet)
	}
	sh.Typical, sh.Stated = a.Value(), true
	sh.Lo, sh.Hi = exact.Max(exact.Int(0), a.Value().Sub(b.Value())), exact.Min(exact.Int(1), a.Value().Add(b.Value()))
	return nil
}

// typical reads ", typical 55 %", "(55 %)" after a range, or a range in
// brackets after a figure.
func (sc *scanner) typical(sh *Share) error {
	sc.space()
	ahead := *sc
	if ahead.eat(',') || ahead.eat(';') {
		ahead.space()
	}
	open := ahead.eat('(')
	named := false
	for _, w := range []string{"typically", "typical", "typ.", "typ", "usually", "average", "avg", "mean"} {
		if named = ahead.word(w); named {
			break
		}
	}
	if !open && !named {
		return nil
	}
	ahead.space()
	if !ahead.eat(':') {
		ahead.eat('=')
	}
	in := Share{Text: sh.Text}
	if err := ahead.span(&in); err != nil {
		return err
	}
	ahead.space()
	if open && !ahead.eat(')') {
		return nil
	}
	switch {
	case in.Stated && !sh.Stated:
		sh.Typical, sh.Stated = in.Typical, true
	case sh.Stated && !in.Stated && !named:
		sh.Lo, sh.Hi = in.Lo, in.Hi
	default:
		return nil
	}
	*sc = ahead
	return nil
}
