package screen

import (
	"unicode/utf8"

	"rotorsieve/report/words"
)

// legend says beneath the table of what to order what its ranges and asterisks are, in as many lines as an asterisk
// and the gap before the classes take alone, so that it costs no detail below. A page that tells of its draws at its
// end needs no more.
func (b *brief) legend(marked bool) {
	const star = "* outside the model's validity, to be trusted less"
	if b.level >= bases {
		if marked {
			b.line("%s", star)
		}
		b.line("")
		return
	}
	fits := func(s string) bool { return utf8.RuneCountInString(s) <= b.width }
	ranges := words.RangesBriefly(b.r.Study, b.r.Decision)
	if both := ranges + "; " + star; marked && fits(both) {
		b.line("%s", both)
		b.line("")
		return
	}
	if more := ranges + "; " + words.FeasibleBriefly; fits(more) {
		ranges = more
	}
	b.line("%s", ranges)
	if marked {
		b.line("%s", star)
	}
}
