package spent

import (
	"testing"
	"time"
)

// Work takes processor time, and sleep hardly any.
func TestTime(t *testing.T) {
	const asleep = 300 * time.Millisecond
	slept, _ := On(func() error { time.Sleep(asleep); return nil })
	if slept > asleep/2 {
		t.Errorf("%v of processor time in %v of sleep", slept, asleep)
	}
	n := uint64(1)
	worked, err := On(func() error {
		for from := Time(); Time()-from < 50*time.Millisecond; {
			n = n*6364136223846793005 + 1
		}
		return nil
	})
	if err != nil || worked < 50*time.Millisecond || n == 0 {
		t.Errorf("%v of processor time in work that lasts until it has taken 50 ms", worked)
	}
}
