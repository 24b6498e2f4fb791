package code

import (
	"fmt"
	"strings"

	"panelwright/formula/finding"
)

// Number is an item number with a good check digit: 8, 12 or 13 digits.
type Number string

// Parse reads an item number; spaces and hyphens between the digits do not count. A wrong check digit is an error
// that names the right one.
func Parse(text string) (Number, error) {
	n := strings.NewReplacer(" ", "", "-", "", "\u00a0", "").Replace(text)
	if strings.Trim(n, "0123456789") != "" {
		return "", fmt.Errorf("“%s” is no item number; write its digits only", text)
	}
	if _, ok := specOf(len(n)); !ok || n == "" {
		return "", fmt.Errorf("“%s” has %d digits; an item number has 13 (EAN-13), 12 (UPC-A) or 8 (EAN-8), the check digit included", text, len(n))
	}
	if want := checkDigit(n[:len(n)-1]); want != n[len(n)-1] {
		return "", fmt.Errorf("the check digit of “%s” is %c and should be %c; compare all digits with the paper the number came on", text, n[len(n)-1], want)
	}
	return Number(n), nil
}

// checkDigit returns the digit that makes the sum of all digits, every other one from the right taken thrice, a
// multiple of ten (GS1 General Specifications 7.9).
func checkDigit(digits string) byte {
	sum := 0
	for i := range digits {
		d := int(digits[len(digits)-1-i] - '0')
		if i%2 == 0 {
			d *= 3
		}
		sum += d
	}
	return byte('0' + (10-sum%10)%10)
}

// Kind returns the name of the symbol the number is drawn as: EAN-13, UPC-A or EAN-8.
func (n Number) Kind() string {
	s, _ := specOf(len(n))
	return s.name
}

// GTIN returns the number in the 14 digits in which item numbers are compared and written into web addresses.
func (n Number) GTIN() string { return strings.Repeat("0", 14-len(n)) + string(n) }

// Circulation says that a number is not one for goods sold in shops of others: "restricted" numbers mean
// something only where they were given, "demonstration" numbers nothing anywhere, "reserved" ones no goods. It
// is "" for all others.
func (n Number) Circulation() (kind string, source finding.Citation) {
	p := string(n)
	switch len(n) {
	case 12:
		p = "0" + p
	case 8:
		if p[0] == '0' || p[0] == '2' { // velocity codes and restricted EAN-8 numbers
			p = "20"
		}
		p += "0"
	}
	for _, r := range data().prefixes {
		if p[:3] >= r.from && p[:3] <= r.to {
			return r.kind, r.source
		}
	}
	return "", finding.Citation{}
}
