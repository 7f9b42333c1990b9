package words

import (
	"fmt"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
)

// Dumped says what a folder holds of the feasible designs: "all: 3 files of 83 designs".
func Dumped(folder string, d *finding.DumpRecord) string {
	files := texts.Grouped(d.Files)
	if d.Files < d.Of {
		files += " of " + texts.Grouped(d.Of)
	}
	return fmt.Sprintf("%s: %s %s of %s %s", folder, files, texts.Plural(int(min(d.Of, 2)), "file", "files"),
		texts.Grouped(d.Rows), texts.Plural(int(min(d.Rows, 2)), "design", "designs"))
}
