//go:build unix && !aix && !solaris && !illumos

package spent

import (
	"syscall"
	"time"
)

func taken() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic("spent: " + err.Error()) // only for another argument
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
