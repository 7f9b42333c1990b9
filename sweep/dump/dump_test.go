package dump

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

func TestTry(t *testing.T) {
	var cs []Column
	for i := range 60 {
		cs = append(cs, Column{Name: fmt.Sprint("z", 99-i)})
	}
	cs = append(cs, Column{Name: "a", Kind: Text, Words: []string{"x", "y"}}, Column{Name: "design", Kind: Whole}, Column{Name: "f", Kind: Flag})
	tb := New(cs, []Entry{{"k", "v"}})
	var b bytes.Buffer
	w := tb.NewWriter(&b)
	v := make([]float64, 63)
	t0 := time.Now()
	for n := range 100000 {
		for i := range 60 {
			v[i] = rand.Float64()
		}
		v[3] = math.NaN()
		v[60] = 1
		v[61] = float64(n)
		if err := w.Add(v); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	fmt.Println(time.Since(t0)/100000, b.Len()/100000, w.to.Schema())
}
