package spent

import (
	"time"

	"golang.org/x/sys/windows"
)

func taken() time.Duration {
	var created, ended, kernel, user windows.Filetime
	if err := windows.GetProcessTimes(windows.CurrentProcess(), &created, &ended, &kernel, &user); err != nil {
		panic("spent: " + err.Error()) // only for another process
	}
	// Steps of 100 ns, not a point in time.
	steps := func(f windows.Filetime) int64 { return int64(f.HighDateTime)<<32 + int64(f.LowDateTime) }
	return time.Duration(100 * (steps(kernel) + steps(user)))
}
