// Command clampwright turns one parameter file into a clamp for a row of
// prismatic cells: parts that can be cut, a proved assembly, the force on the
// cells, and the documents to build it from.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"
)

func main() {
	ctx, cancel := context.WithCancel(context.Background())
	ui := newConsole(os.Stdout, os.Stderr)
	go stopOn(cancel, ui)
	os.Exit(run(ctx, os.Args, ui))
}

// atOnce is how soon after a signal the program has ended or says that it was heard.
const atOnce = 15 * time.Millisecond

// stopOn ends the run in order at the first signal. The second is left to the system,
// which ends it at once: whatever is half done then, the next run puts in order. One
// that came before the system was told, on a busy machine, ends it here.
func stopOn(cancel func(), ui *console) {
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	<-signals
	signal.Stop(signals)
	cancel()
	select {
	case <-signals:
	case <-time.After(atOnce):
		ui.stepDone()
		ui.fail("stopping; Ctrl-C once more ends it at once")
		<-signals
	}
	os.Exit(exitFailed)
}
