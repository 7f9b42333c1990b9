package rotor

import "testing"

func BenchmarkSolve(b *testing.B) {
	s, _ := fiveInch(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Solve(0.2, 300); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewTable(b *testing.B) {
	s, _ := fiveInch(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewTable(s); err != nil {
			b.Fatal(err)
		}
	}
}

// The look-ups wander, as those of a sweep do.

func BenchmarkAt(b *testing.B) {
	_, t := fiveInch(b)
	b.ReportAllocs()
	J, n := 0.1, 300.0
	for b.Loop() {
		if n += 17.3; n > 700 {
			n -= 600
		}
		if J += 0.0371; J > 0.6 {
			J -= 0.7
		}
		t.At(J, n)
	}
}

func BenchmarkStatic(b *testing.B) {
	_, t := fiveInch(b)
	b.ReportAllocs()
	n := 300.0
	for b.Loop() {
		if n += 17.3; n > 700 {
			n -= 600
		}
		t.Static(n)
	}
}

func BenchmarkStaticSlope(b *testing.B) {
	_, t := fiveInch(b)
	b.ReportAllocs()
	n := 300.0
	for b.Loop() {
		if n += 17.3; n > 700 {
			n -= 600
		}
		t.StaticSlope(n)
	}
}

func BenchmarkInclined(b *testing.B) {
	_, t := fiveInch(b)
	b.ReportAllocs()
	for b.Loop() {
		t.Inclined(Flow{4, 12}, 300)
	}
}

func BenchmarkInclinedThrust(b *testing.B) {
	_, t := fiveInch(b)
	b.ReportAllocs()
	for b.Loop() {
		t.InclinedThrust(Flow{4, 12}, 1.6)
	}
}

func BenchmarkCalibrate(b *testing.B) {
	s, _ := fiveInch(b)
	points := []StaticPoint{{N: 300, Thrust: 5.6, Power: 130}}
	for b.Loop() {
		if _, err := Calibrate(s.Geometry(), s.Air(), points); err != nil {
			b.Fatal(err)
		}
	}
}
