package motor

import "testing"

// A joined board with a flight controller of 4.5 g against common practice, and what it
// saves beside a board of its own.
func TestBoardMass(t *testing.T) {
	const flightController = 4.5e-3
	for _, x := range []struct{ rating, low, high float64 }{
		{12, 7e-3, 9e-3}, {20, 7e-3, 9.5e-3}, {45, 12e-3, 18e-3},
	} {
		if m := flightController + nominal.BoardMass(Joined, nominal.Rated(x.rating)); !(m >= x.low && m <= x.high) {
			t.Errorf("a joined board of %g A weighs %.3g kg, want %g to %g", x.rating, m, x.low, x.high)
		}
	}
	for _, a := range ratings {
		c := nominal.Rated(a)
		separate, joined := nominal.BoardMass(Separate, c), nominal.BoardMass(Joined, c)
		if !(joined < separate) {
			t.Errorf("%g A: %g kg separate, %g kg joined", a, separate, joined)
		}
	}
}
