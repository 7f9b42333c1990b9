package main

import "testing"

func TestNumber(t *testing.T) {
	var n int
	v := newNumber(&n, 1, 50, 20)
	if n != 20 || v.String() != "20" {
		t.Errorf("the default is %d, %s", n, v)
	}
	if err := v.Set(" 7 "); err != nil || n != 7 {
		t.Errorf("7 sets %d, %v", n, err)
	}
	for _, text := range []string{"", "0", "51", "x", "7.0", "1e1", "99999999999999999999"} {
		if err := v.Set(text); err == nil || n != 7 {
			t.Errorf("%q sets %d, %v", text, n, err)
		}
	}
}
