package templates

import "embed"

// Fonts holds the typefaces, one folder a family. They are files as their designers published them, not cut
// down, under the SIL Open Font License 1.1; the licence text with its copyright notice stands in each
// folder as OFL.txt and has to stay there.
//
// The text family Barlow comes in three widths (normal, semi condensed, condensed), each regular and bold.
// Its lower-case letters are tall for its size, which is what counts where the law measures the letter o.
//
//go:embed fonts/*/*.ttf fonts/*/OFL.txt
var Fonts embed.FS
