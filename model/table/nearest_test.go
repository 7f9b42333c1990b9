package table

import "testing"

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"kv", "kv", 0},
		{"kitten", "sitting", 3}, {"flaw", "lawn", 2}, {"diamter", "diameter", 1},
	} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	names := []string{"auw", "hover-time", "hover-power", "kv", "thrust-to-weight", "tip-mach"}
	for _, c := range []struct{ name, want string }{
		{"hover-tme", "hover-time"},
		{"Hover-Power", "hover-power"},
		{"hover", "hover-time"},
		{"thrust", "thrust-to-weight"},
		{"tipmach", "tip-mach"},
		{"kc", "kv"},
		{"aw", "auw"},
		{"th", ""},
		{"wingspan", ""},
		{"", ""},
	} {
		got, ok := Nearest(c.name, names)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("Nearest(%q) = %q, %v, want %q", c.name, got, ok, c.want)
		}
	}
}
