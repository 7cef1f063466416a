package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"github.com/urfave/cli/v2"

	"clampwright/export/live"
	"clampwright/params"
)

func serveCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:      "serve",
		Usage:     "the bench card in a browser, in which every value can be typed anew",
		ArgsUsage: "[FILE]",
		Description: "Serves the card on this machine alone and opens the browser. What is typed there is\n" +
			"written into FILE, comments kept; what an editor saves appears. Without a file it\n" +
			"begins with questions and writes the first one. Ctrl-C ends it.\n" +
			"Example: clampwright serve pack.yaml",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "folder that 'Write files' writes; default: out, beside FILE"},
			&cli.IntFlag{Name: "port", Usage: "port of this machine; default: any that is free"},
			&cli.BoolFlag{Name: "no-browser", Usage: "print the address and open nothing"},
		},
		Action: func(c *cli.Context) error {
			if c.NArg() > 1 {
				_, err := oneFile(c)
				return err
			}
			return serve(c.Context, ui, c.Args().First(), c.String("out"), c.Int("port"), !c.Bool("no-browser"))
		},
	}
}

// serve serves the page of a file until ctx ends.
func serve(ctx context.Context, ui *console, name, out string, port int, browse bool) error {
	if name == "-" {
		return &outcome{exitInput, "serve changes the file: name one that can be saved"}
	}
	if name != "" {
		if _, err := readInput(ctx, name); err != nil {
			return err
		}
	}
	quiet := &console{out: ui.err, err: ui.err, quiet: true, terse: true}
	s, err := live.Open(live.Options{
		File: name, Folder: ".", Port: port, Say: func(line string) { ui.say("%s", line) },
		Starter: servedStarter,
		Make: func(ctx context.Context, file string, text []byte) (string, error) {
			return servedFiles(ctx, quiet, file, out, text)
		},
	})
	if err != nil {
		return &outcome{exitFailed, "the page can't be served: " + err.Error()}
	}
	ui.print("%s", s.URL())
	ui.say("that is the bench page, for this machine alone; press Ctrl-C to end")
	if browse {
		openBrowser(s.URL())
	}
	if err := s.Serve(ctx); err != nil && ctx.Err() == nil {
		return &outcome{exitFailed, "the page is no longer served: " + err.Error()}
	}
	return nil
}

// servedStarter is what new writes; where nothing passes, as derived: the page then
// shows what mends it.
func servedStarter(ctx context.Context, o params.StarterOptions, set []params.Change) ([]byte, error) {
	text, diags, err := fittingStarter(ctx, o, set...)
	if _, none := errors.AsType[*unfitting](err); none {
		text, diags, err = starter(o, set)
	}
	if err == nil {
		err = diags.Err()
	}
	return text, err
}

// servedFiles writes what make writes, of the text that was judged.
func servedFiles(ctx context.Context, ui *console, file, out string, text []byte) (string, error) {
	in, err := readAll(ctx, ui, file)
	if err != nil {
		return "", err
	}
	if !bytes.Equal(in.text, text) {
		return "", errors.New("the file was changed meanwhile; look at it anew")
	}
	if out == "" {
		out = filepath.Join(filepath.Dir(file), "out")
	}
	m, err := makeJob(ctx, ui, in, out, false)
	if err != nil {
		return "", err
	}
	said := fmt.Sprintf("%d files in %s%s; start with %s.", len(m.res.Written), out, variantWords(m.batch), filepath.Join(out, "build-sheet.html"))
	if names, _ := m.fouled(); len(names) > 0 {
		said += " No cut or print files were written for " + few(names, fewFiles) + ": a check fails."
	}
	if len(m.res.Edited) > 0 {
		said += " Was not as this program wrote it and is kept: " + few(m.res.Edited, fewFiles) + "."
	}
	return said, nil
}

// openBrowser asks the system to show an address. Where it can't, the address that was
// printed serves.
func openBrowser(url string) {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	cmd := exec.Command(name, args...)
	cmd.Stdin, cmd.Env = nil, os.Environ()
	if cmd.Start() == nil {
		go func() { _ = cmd.Wait() }()
	}
}
