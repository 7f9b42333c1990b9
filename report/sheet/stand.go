package sheet

import (
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/words"
)

// standErrors is the table of the errors against thrust stands.
func (b *review) standErrors(p *xlsx.Page, last int) {
	p.Keep(8)
	section(p, "Error of the electrical chain and of the blades against thrust stands")
	p.Wide(1, last, words.StandNote, xlsx.Note)
	p.Next()
	columns := []string{"Quantity", "Mean (%)", "Root mean square (%)", "", "Propellers", "States measured"}
	p.Head(columns)
	for _, c := range words.Standings() {
		p.Continued(4, columns)
		for _, q := range []struct {
			what string
			words.Misfit
		}{
			{"Speed at full throttle", c.Speed}, {"Current at full throttle", c.Current},
			{"Thrust at full throttle", c.Thrust},
			{"Electrical power below it", c.Power}, {"Thrust at the speed", c.Lift},
		} {
			p.Put(1, q.what, xlsx.Ruled(xlsx.Plain))
			p.Put(2, q.Mean, xlsx.Ruled(xlsx.Look{Number: "+0.0;-0.0;0.0", Align: "left"}))
			p.Put(3, q.RMS, xlsx.Ruled(xlsx.Look{Number: "0.0", Align: "left"}))
			p.Put(4, "", xlsx.Ruled(xlsx.Plain))
			p.Put(5, c.Propellers, xlsx.Ruled(xlsx.Plain))
			p.Put(6, c.Rows, xlsx.Ruled(xlsx.Look{Align: "left"}))
			p.Next()
		}
	}
	p.Gap()
}
