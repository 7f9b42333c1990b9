//go:build !windows && (!unix || aix || solaris || illumos)

package spent

import "time"

var began = time.Now()

func taken() time.Duration { return time.Since(began) }
