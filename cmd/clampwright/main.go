// Command clampwright turns one parameter file into a clamp for a row of
// prismatic cells: parts that can be cut, a proved assembly, the force on the
// cells, and the documents to build it from.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args, newConsole(os.Stdout, os.Stderr))
	stop()
	os.Exit(code)
}
