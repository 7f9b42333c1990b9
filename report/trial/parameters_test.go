package trial

import (
	"encoding/json"
	"flag"
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
)

var freeze = flag.Bool("freeze", false, "write parameters.json anew: the values that it has, the nominal ones of "+
	"what is new")

// The file has every parameter of the model and no other. Its values may differ from the
// nominal ones: that is what it is for.
func TestFrozenParameters(t *testing.T) {
	p := Parameters()
	now := map[string]float64{}
	for i := range model.ParameterTable {
		e := &model.ParameterTable[i]
		now[e.Symbol] = *e.At(&p)
	}
	if *freeze {
		text, err := json.MarshalIndent(now, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile("parameters.json", append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	names := func(m map[string]float64) []string { return slices.Sorted(maps.Keys(m)) }
	if d := cmp.Diff(names(now), names(symbols())); d != "" {
		t.Errorf("parameters.json does not have the symbols of the table (-table +file; "+
			"`go test ./report/trial -freeze` writes it anew):\n%s", d)
	}
	if len(now) < 60 {
		t.Errorf("only %d parameters", len(now))
	}
	if m := Model(t, model.Defaults()); m.Parameters() != p {
		t.Error("a model of this package does not compute with the frozen parameters")
	}
}
