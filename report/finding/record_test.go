package finding_test

import (
	"strings"
	"testing"

	"rotorsieve/report/finding"
)

// Named values keep the order in which they were written; what is none is refused.
func TestNamed(t *testing.T) {
	t.Parallel()
	var n finding.Named[float64]
	for _, text := range []string{`{}`, `null`, `{"b":{"value":1,"unit":"m"},"a":{"value":2,"unit":""}}`} {
		if err := n.UnmarshalJSON([]byte(text)); err != nil {
			t.Fatal(err)
		}
		got, err := n.MarshalJSON()
		if want := strings.Replace(text, "null", "{}", 1); err != nil || string(got) != want {
			t.Errorf("%s is written as %s, %v", text, got, err)
		}
	}
	if v, ok := n.Of("a"); v != 2 || !ok {
		t.Errorf("a is %v, %v", v, ok)
	}
	if _, ok := n.Of("c"); ok {
		t.Error("there is a c")
	}
	for _, text := range []string{`[]`, `1`, `{"a":3}`, `{"a":{"value":"x"}}`, `{`, ``} {
		if err := n.UnmarshalJSON([]byte(text)); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}
