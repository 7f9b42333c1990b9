package report

// standErrors is the table of the errors against thrust stands.
func (b *review) standErrors(p *page, last int) {
	p.keep(8)
	p.section("Error of the electrical chain and of the blades against thrust stands")
	p.wide(1, last, standNote, note)
	p.next()
	columns := []string{"Quantity", "Mean (%)", "Root mean square (%)", "", "Propellers", "States measured"}
	p.head(columns)
	for _, c := range standings() {
		p.continued(4, columns)
		for _, q := range []struct {
			what string
			misfit
		}{
			{"Speed at full throttle", c.Speed}, {"Current at full throttle", c.Current}, {"Thrust at full throttle", c.Thrust},
			{"Electrical power below it", c.Power}, {"Thrust at the speed", c.Lift},
		} {
			p.put(1, q.what, ruled(plain))
			p.put(2, q.Mean, ruled(look{Number: "+0.0;-0.0;0.0", Align: "left"}))
			p.put(3, q.RMS, ruled(look{Number: "0.0", Align: "left"}))
			p.put(4, "", ruled(plain))
			p.put(5, c.Propellers, ruled(plain))
			p.put(6, c.Rows, ruled(look{Align: "left"}))
			p.next()
		}
	}
	p.gap()
}
