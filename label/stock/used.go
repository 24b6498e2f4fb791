package stock

import (
	"fmt"
	"strconv"
	"strings"
)

// usedHead opens the file that keeps the cells used on the sheet in hand.
const usedHead = "# The cells that are used on the sheet in hand. Cells that were skipped stay free.\n" +
	"# To correct it: panelwright print --stock NAME --used 1-5,9   (or --used none for a new sheet)\n"

// WriteUsed returns the text that keeps the cells used on the sheet in hand of stock s.
func WriteUsed(s *Stock, used Cells) []byte {
	return fmt.Appendf(nil, "%ssheet of: %s\ncells: %d\nused: %s\n", usedHead, s.Name, s.Cells(), used)
}

// ReadUsed reads what WriteUsed wrote. It fails where the text is of another stock, or of a stock that had
// another number of cells: then nobody knows which cell is meant.
func ReadUsed(s *Stock, text []byte) (Cells, error) {
	have := map[string]string{}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		key, value, ok := strings.Cut(line, ":")
		if _, twice := have[key]; !ok || twice {
			return nil, fmt.Errorf("the line %q is none of “sheet of:”, “cells:” and “used:”", line)
		}
		have[key] = strings.TrimSpace(value)
	}
	switch {
	case have["sheet of"] != s.Name:
		return nil, fmt.Errorf("it is of the stock %q, not of %q", have["sheet of"], s.Name)
	case have["cells"] != strconv.Itoa(s.Cells()):
		return nil, fmt.Errorf("it counts %s cells to a sheet, and the stock has %d", have["cells"], s.Cells())
	case have["used"] == "":
		return nil, fmt.Errorf("it has no line “used:”")
	}
	return ParseCells(have["used"], s.Cells())
}
