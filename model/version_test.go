package model

import "testing"

func TestOther(t *testing.T) {
	for version, want := range map[string]string{
		Version: "",
		"0":     "0, older than " + Version + " of this program",
		"9999":  "9999, newer than " + Version + " of this program",
		"x\ny":  `"x\ny", not ` + Version + " of this program",
		"":      `"", not ` + Version + " of this program",
	} {
		if got := Other(version); got != want {
			t.Errorf("Other(%q) = %q, want %q", version, got, want)
		}
	}
}
