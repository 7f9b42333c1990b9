package main

import "testing"

func TestWanted(t *testing.T) {
	names := []string{"cells", "kv"}
	if got, want := wanted("cels", names), "did you mean cells?"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := wanted("wingspan", names), "want one of cells, kv"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A name that several candidates have as a word asks for all of them, unless
// they are too many to read.
func TestMeant(t *testing.T) {
	names := []string{"tip-mach", "flight-tip-mach", "hover-time", "hover-power", "hover-throttle", "auw", "kv"}
	many := make([]string, mostMeant+1)
	for i := range many {
		many[i] = "hover-" + string(rune('a'+i))
	}
	for _, c := range []struct {
		name       string
		candidates []string
		want       string
	}{
		{"hover", names, "did you mean --hover-time, --hover-power or --hover-throttle?"},
		{"Mach", names, "did you mean --tip-mach or --flight-tip-mach?"},
		{"throttle", names, "did you mean --hover-throttle?"},
		{"tip", names, "did you mean --tip-mach or --flight-tip-mach?"},
		{"hover-tme", names, "did you mean --hover-time?"},
		{"kw", names, "did you mean --kv?"},
		{"wingspan", names, ""},
		{"", names, ""},
		{"hover", many, "did you mean --hover-a?"},
	} {
		if got := meant(c.name, "--", c.candidates); got != c.want {
			t.Errorf("meant(%q) = %q, want %q", c.name, got, c.want)
		}
	}
}
