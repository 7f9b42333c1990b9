package texts

import "testing"

func TestGrouped(t *testing.T) {
	t.Parallel()
	for n, want := range map[uint64]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567",
		18446744073709551615: "18,446,744,073,709,551,615"} {
		if got := Grouped(n); got != want {
			t.Errorf("%d reads %q, want %q", n, got, want)
		}
	}
}

func TestOneLine(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{"": "", "a\nb\tc": "a b c", "\x1b[31mred": " [31mred", "a\xffb": "a b",
		"5\u00a0in ±": "5\u00a0in ±"} {
		if got := OneLine(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

func TestCase(t *testing.T) {
	t.Parallel()
	for in, want := range map[string][2]string{ // lower, upper
		"":           {"", ""},
		"Hover time": {"hover time", "Hover time"},
		"KV":         {"KV", "KV"},
		"CT at rest": {"CT at rest", "CT at rest"},
		"Über":       {"über", "Über"},
		"é":          {"é", "É"},
		"A":          {"a", "A"},
	} {
		if got := [2]string{Lower(in), Upper(in)}; got != want {
			t.Errorf("%q is %q, want %q", in, got, want)
		}
	}
}

func TestLists(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		words   []string
		and, or string
	}{
		{nil, "", ""},
		{[]string{"a"}, "a", "a"},
		{[]string{"a", "b"}, "a and b", "a or b"},
		{[]string{"a", "b", "c"}, "a, b and c", "a, b or c"},
	} {
		if and, or := JoinAnd(c.words), JoinOr(c.words); and != c.and || or != c.or {
			t.Errorf("%q reads %q and %q, want %q and %q", c.words, and, or, c.and, c.or)
		}
	}
}

func TestChoices(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{0: "rows", 1: "row", 2: "rows"} {
		if got := Plural(n, "row", "rows"); got != want {
			t.Errorf("%d %s, want %s", n, got, want)
		}
	}
	if YesNo(true) != "yes" || YesNo(false) != "no" || Or("", "none") != "none" || Or("a", "none") != "a" {
		t.Error("a choice is wrong")
	}
}
