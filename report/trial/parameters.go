package trial

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"sync"
	"testing"

	"rotorsieve/model"
)

//go:embed parameters.json
var kept []byte

// symbols are the frozen parameters by symbol, in the units of the table of parameters.
var symbols = sync.OnceValue(func() (out map[string]float64) {
	if err := json.Unmarshal(kept, &out); err != nil {
		panic(fmt.Sprintf("trial: parameters.json: %v", err))
	}
	return out
})

// Parameters are the frozen parameters of the physics. One that the file does not have is
// the nominal one, which a test of this package does not let pass.
func Parameters() model.Parameters {
	p := model.Nominal()
	for i := range model.ParameterTable {
		e := &model.ParameterTable[i]
		if v, ok := symbols()[e.Symbol]; ok {
			*e.At(&p) = v
		}
	}
	return p
}

// Model is a model with the frozen parameters. What holds a printed source or a nominal
// value against the model takes one of model.New.
func Model(t testing.TB, a model.Assumptions) *model.Model {
	t.Helper()
	m, err := model.NewWith(a, Parameters())
	if err != nil {
		t.Fatal(err)
	}
	return m
}
