package outside

import (
	"strings"
	"testing"
)

// SoundPDF fails the test where a PDF file breaks the rules of the format: as its own reader finds (qpdf), and as a
// strict validator does object by object (pdfcpu, against ISO 32000-1:2008).
func SoundPDF(t testing.TB, file string) {
	t.Helper()
	if out := Run(t, "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Error(out)
	}
	Run(t, "pdfcpu", "validate", "--mode", "strict", "--conf", "disable", "--offline", file)
}
