package book

import (
	"encoding/hex"
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"panelwright/formula"
	"panelwright/formula/finding"
	"panelwright/label"
)

// readFingerprint reads the SHA-256 of a supplier's document.
func (mp *materialPage) readFingerprint(n *yaml.Node) {
	s, ok := mp.text(n, "the fingerprint of the file")
	if !ok {
		return
	}
	sum := strings.ToLower(strings.TrimSpace(s))
	if raw, err := hex.DecodeString(sum); err != nil || len(raw) != 32 {
		mp.fail("book.form", n, fmt.Sprintf("“%s” is no fingerprint of a file", clip(s)), "copy the 64 letters and digits that panelwright sheet --file prints")
		return
	}
	mp.sheet.Fingerprint = sum
}

// ChangedSheets warns of suppliers' documents that are no longer the files whose
// figures the book holds. of returns the fingerprint of a file of the book's folder,
// "" if it is not there.
func (b *Book) ChangedSheets(of func(file string) string) (out finding.List) {
	told := map[[2]string]bool{}
	look := func(m *formula.Material) {
		s, ok := m.Info.(*label.Sheet)
		if !ok || s.File == "" || s.Fingerprint == "" || told[[2]string{s.File, s.Fingerprint}] {
			return
		}
		now := of(s.File)
		if now == "" || now == s.Fingerprint {
			return
		}
		told[[2]string{s.File, s.Fingerprint}] = true
		out.Add(finding.Finding{Rule: "sheet.file-changed", Severity: finding.Warning, Where: m.Pos,
			Message: fmt.Sprintf("%s: the file %s is no longer the one that was read: its fingerprint begins with %s, in the book with %s", m.Name, s.File, now[:12], s.Fingerprint[:12]),
			Cure:    "read the new sheet with panelwright sheet and compare, or put the old file back"})
	}
	for _, m := range b.Materials {
		look(m)
		if s, ok := m.Info.(*label.Sheet); ok {
			for _, l := range s.Later {
				look(l.Material)
			}
		}
	}
	return out
}
