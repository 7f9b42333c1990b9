package main

import (
	"os"
	"os/signal"
)

// answer has a command say how far it is whenever one of the signals comes that ask for it,
// where the system has such, until the function that it gives is called.
func (p *progress) answer() func() {
	if len(asking) == 0 {
		return func() {}
	}
	asked, over := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(asked, asking...)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		for {
			select {
			case <-asked:
				p.say()
			case <-over:
				return
			}
		}
	}()
	return func() {
		signal.Stop(asked)
		close(over)
		<-ended
	}
}
