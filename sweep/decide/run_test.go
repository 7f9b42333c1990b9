package decide

import (
	"context"
	"testing"
	"time"
)

func TestLook(t *testing.T) {
	for _, x := range trials {
		s, r := x.run(t)
		start := time.Now()
		d, err := Run(context.Background(), s, r, Options{Draws: 256, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d designs, feasible %d; %v", x.name, s.Grid.Size(), r.Classes[0].Feasible, time.Since(start))
		c := d.Classes[0]
		t.Logf("judged %d told %d nominal %d surest %d", c.Judged, len(c.Builds), c.Nominal, c.Surest)
		for i := range c.Builds {
			if i < 5 || i == c.Nominal || i == c.Surest {
				b := c.Builds[i]
				t.Logf("%+v", b)
			}
		}
		t.Logf("%+v", c.Axes[0])
		t.Logf("%+v", c.Line)
		for _, x := range c.Sensitivities {
			t.Logf("%+v", x)
		}
		for _, x := range c.Loosened {
			t.Logf("%s %+v", s.Gates()[x.Gate].Name, x)
		}
		t.Logf("%+v", c.Weights)
		for _, x := range c.Worth {
			t.Logf("%+v", x)
		}
	}
}
