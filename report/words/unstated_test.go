package words

import (
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/part"
)

// What a list leaves out of a part is said, and nothing of a part that is generated.
func TestUnstated(t *testing.T) {
	t.Parallel()
	d := model.Design{Parts: model.Parts{
		Motor: &part.Motor{Mass: part.Stated{Value: 0.03, Known: true}, Price: part.Stated{Value: 9, Known: true}},
		Board: &part.Board{Mass: part.Stated{Value: 0.01, Known: true}, Price: part.Stated{Value: 9, Known: true}},
	}}
	for kind, want := range map[string]string{
		"motor": "not stated: resistance, idle current, current, burst time, cells",
		"board": "",
		"pack":  "",
	} {
		if got := Unstated(kind, d); got != want {
			t.Errorf("%s: %q, want %q", kind, got, want)
		}
		if got := UnstatedTold(kind, d); (got == "") != (want == "") {
			t.Errorf("%s is told with %q", kind, got)
		}
	}
}
