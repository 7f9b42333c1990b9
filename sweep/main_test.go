package sweep

import (
	"testing"

	"go.uber.org/goleak"
)

// Whatever a run starts has ended when it returns.
func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }
