package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"clampwright/export/mark"
)

// The exit codes of the contract.
const (
	exitDone   = 0 // done, and nothing fails
	exitFailed = 1 // could not do it: I/O, internal
	exitInput  = 2 // the input is wrong
	exitFouled = 3 // done, and a check fails
)

// outcome is an error that carries its exit code. An empty text has been
// printed already.
type outcome struct {
	code int
	text string
}

func (o *outcome) Error() string { return o.text }

// run executes one command line and returns the exit code. Nothing below it
// exits or prints elsewhere than through the console.
func run(ctx context.Context, args []string, ui *console) int {
	out := &sink{w: ui.out}
	ui.out = out
	app := newApp(ui)
	err := app.RunContext(ctx, optionsFirst(app, args))
	if out.err != nil {
		ui.fail("the output could not be written: " + out.err.Error())
		return exitFailed
	}
	if err == nil {
		return exitDone
	}
	var o *outcome
	if errors.As(err, &o) {
		if o.text != "" {
			ui.fail(o.text)
		}
		return o.code
	}
	if ctx.Err() != nil {
		ui.fail("interrupted; nothing was changed")
		return exitFailed
	}
	ui.fail(err.Error())
	return exitInput
}

func newApp(ui *console) *cli.App {
	app := &cli.App{
		Name:                   "clampwright",
		Usage:                  "clamps for prismatic cells: sized, proved, ready to cut",
		Version:                fmt.Sprint(mark.Version()),
		HideHelpCommand:        true,
		Writer:                 ui.out,
		ErrWriter:              ui.err,
		EnableBashCompletion:   true,
		UseShortOptionHandling: true,
		Suggest:                true,
		ExitErrHandler:         func(*cli.Context, error) {}, // run maps errors to codes
		OnUsageError:           usageError,
		CommandNotFound:        nil,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print only what went wrong"},
			&cli.BoolFlag{Name: "verbose", Usage: "print every check and the whole clamp"},
			&cli.BoolFlag{Name: "notices", Usage: "print the licences of the libraries in the program"},
		},
		Before: func(c *cli.Context) error {
			ui.quiet, ui.verbose = c.Bool("quiet"), c.Bool("verbose")
			return nil
		},
		Action: noCommand,
	}
	app.Commands = []*cli.Command{
		newCommand(ui), serveCommand(ui), makeCommand(ui), checkCommand(ui), mendCommand(ui), readingCommand(ui), sizeCommand(ui), compareCommand(ui), traceCommand(ui), listCommand(ui), explainCommand(ui), schemaCommand(ui), completionCommand(ui),
	}
	for _, c := range app.Commands {
		c.OnUsageError, c.HideHelpCommand = usageError, true
	}
	return app
}

// noCommand runs when no command, or an unknown one, was given.
func noCommand(c *cli.Context) error {
	if c.NArg() > 0 {
		return &outcome{exitInput, fmt.Sprintf("there is no command %q; 'clampwright --help' lists them", c.Args().First())}
	}
	if c.Bool("notices") {
		_, err := io.WriteString(c.App.Writer, notices)
		return err
	}
	return cli.ShowAppHelp(c)
}

func usageError(_ *cli.Context, err error, _ bool) error {
	return &outcome{exitInput, err.Error() + "; see --help"}
}

// oneFile returns the command's single file argument.
func oneFile(c *cli.Context) (string, error) {
	switch c.NArg() {
	case 1:
		return c.Args().First(), nil
	case 0:
		return "", &outcome{exitInput, fmt.Sprintf("which parameter file? For example: clampwright %s pack.yaml", c.Command.Name)}
	}
	return "", &outcome{exitInput, fmt.Sprintf("one parameter file at a time; got %d: %s", c.NArg(), strings.Join(c.Args().Slice(), ", "))}
}
