package finding_test

import (
	"os"
	"path/filepath"
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

// A record that would take far more memory than bytes is refused before it is parsed.
func TestReadRecordFile(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), finding.RecordName)
	const objects, items = 400_000, 4 << 20
	for _, c := range []struct {
		text string
		want string // "" where it is read
	}{
		{strings.Repeat("{", objects), ""},
		{strings.Repeat("{", objects+1), "objects, which no run leaves"},
		{"[0" + strings.Repeat(",0", items) + "]", ""},
		{"[0" + strings.Repeat(",0", items+1) + "]", "values, which no run leaves"},
	} {
		if err := os.WriteFile(path, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		b, err := finding.ReadRecordFile(path)
		if c.want == "" && (err != nil || string(b) != c.text) {
			t.Errorf("%.10s...: %v", c.text, err)
		}
		if c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%.10s...: %v, want %q", c.text, err, c.want)
		}
	}
}
