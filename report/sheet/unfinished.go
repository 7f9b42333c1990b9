package sheet

import (
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// judged says in place of an answer what was judged and what may be left.
func (b *review) judged(p *xlsx.Page) {
	section(p, "What was judged")
	last := len(p.Widths)
	p.Put(1, "Diameters", xlsx.Ruled(xlsx.Strong))
	p.Wide(2, last, "Of each diameter, in every class: "+words.JudgedShares(b.run), xlsx.Ruled(xlsx.Plain))
	p.Next()
	for i := range b.found {
		f := &b.found[i]
		p.Put(1, words.ClassName(f.Class), xlsx.Ruled(xlsx.Strong))
		p.Wide(2, last, texts.Upper(words.Rest(b.run.Rest(f), f.Best() != nil)), xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
}
