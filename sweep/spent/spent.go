// Package spent tells what processor time this process has taken: what something costs, however
// busy the machine is with other work meanwhile.
package spent

import "time"

// Time is the processor time of all threads of the process since it began. Where the system
// does not tell, it is the time since the program began.
func Time() time.Duration { return taken() }

// On gives the processor time that something takes, with all that the process does besides.
func On(do func() error) (time.Duration, error) {
	from := Time()
	err := do()
	return Time() - from, err
}
