package words

import (
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Answer says what a design is, and what it reaches by the nominal model.
func Answer(r *finding.Run, e *finding.Entry) string {
	d, c := e.Design, e.Craft
	words := partsInWords(d, finding.MAh.Format(d.Capacity, 4)) + ": " + finding.Gram.Format(c.Mass, 3)
	if d.Payload > 0 {
		words += " with " + Mass(d.Payload) + " of payload"
	}
	words += ", hovers " + Brief(finding.Metric("hover-time"), finding.Metric("hover-time").Of(c)) +
		", thrust to weight " + Brief(finding.Metric("thrust-to-weight"), finding.Metric("thrust-to-weight").Of(c))
	if stand := finding.Metric("burst-time"); finding.Stood(stand, c) {
		words += fmt.Sprintf(" (windings at %s after %s)", finding.Celsius.Format(motor.BurstLimit, 4),
			stand.Unit.Format(stand.Of(c), 2))
	}
	for _, t := range r.Study.Merit {
		if v := t.Metric.Of(c); finding.Finite(v) && t.Metric.Name != "hover-time" &&
			t.Metric.Name != "thrust-to-weight" && t.Metric.Name != "payload" {
			words += ", " + texts.Lower(t.Metric.Title) + " " + t.Metric.Unit.Format(v, 3)
			if stand := finding.Metric("top-speed-time"); t.Metric.Name == "top-speed" && finding.Stood(stand, c) {
				words += fmt.Sprintf(", held %s before the windings reach %s", stand.Unit.Format(stand.Of(c), 2),
					finding.Celsius.Format(motor.BurstLimit, 4))
			}
		}
	}
	return words
}

// partsInWords names the parts of a design, whose pack has a capacity.
func partsInWords(d model.Design, capacity string) string {
	propellers := fmt.Sprintf("%s × %s propellers of %d blades", finding.Inch.Number(d.Diameter, 4),
		finding.Inch.Format(d.Pitch, 4), d.Blades)
	if d.Propeller != nil {
		propellers = "propellers " + d.Propeller.Name
	}
	pack := fmt.Sprintf("%dS %s", d.Cells, capacity)
	if d.Pack != nil {
		pack = d.Pack.Name
	}
	motors := fmt.Sprintf("%s motors of %s", Stator(d), Input(sweep.KV, d))
	if d.Motor != nil {
		motors = "motors " + d.Motor.Name
	}
	return fmt.Sprintf("%s, %s, pack %s%s", propellers, motors, pack, mounted(d))
}

// Chosen says what the recommended build is, with the pack that is bought, and what it reaches over the draws.
func Chosen(c *finding.Choice) string {
	b := c.Recommended()
	s := partsInWords(b.Design, PackBought(b))
	if c.Swept(sweep.Payload) && b.Design.Payload > 0 {
		s += " with " + Mass(b.Design.Payload) + " of payload"
	}
	return fmt.Sprintf("%s: keeps all requirements in %s of the draws; %s", s, Probability(b.Feasible),
		ReachesBriefly(c, b))
}

// BesideChosen says what the nominal best is where that is another design than the recommended build as it is
// planned; "" where it is that.
func BesideChosen(r *finding.Run, f *finding.Class) string {
	c, best := f.Choice, f.Best()
	if f.Planned.Index == best.Index {
		return ""
	}
	s := "nominal best, before any error: " + Answer(r, best)
	switch n := c.At(c.Nominal); {
	case n == nil:
		s += "; it was not among what was drawn"
	case c.Nominal > 0:
		s += fmt.Sprintf("; it keeps all requirements in %s of the draws, at a cautious merit of %s in place of %s",
			Probability(n.Feasible), Merits(n.Cautious), Merits(c.Recommended().Cautious))
	}
	if w := Within(f); w != "" {
		s += "; outside the limits of the model's validity, to be trusted less; " + w
	}
	return s
}

// HeldOver say at what the draws of the recommended build fail, and what holds it as it is planned.
func HeldOver(c *finding.Choice, h finding.Held) []string {
	return append([]string{"fails " + Fails(c, c.Recommended())}, Held(h)...)
}
