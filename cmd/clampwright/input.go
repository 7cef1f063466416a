package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"
)

// mostInput is how much of a file is read; the parameter file and its readings each
// have a bound of their own below it.
const mostInput = 4 << 20

// mostWait is how long a pipe may take to give all it has.
var mostWait = 10 * time.Second

// readFile reads a file, a pipe or, for "-", standard input, within bounds. It
// returns as soon as ctx ends, whatever it waits for.
func readFile(ctx context.Context, name string) ([]byte, error) {
	type result struct {
		text []byte
		err  error
	}
	done := make(chan result, 1)
	go func() {
		text, err := readBounded(name)
		done <- result{text, err}
	}()
	select {
	case r := <-done:
		return r.text, r.err
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-time.After(mostWait):
		return nil, fmt.Errorf("%s has not come to its end within %v: whatever writes into it is silent or has no end", called(name), mostWait)
	}
}

func readBounded(name string) ([]byte, error) {
	in := os.Stdin
	if name != "-" {
		info, err := os.Stat(name) // before it is opened: to open a device may start something
		if err == nil {
			err = readable(name, info)
		}
		if err != nil {
			return nil, err
		}
		if in, err = os.Open(name); err != nil {
			return nil, err
		}
		defer in.Close()
	}
	info, err := in.Stat()
	if err == nil {
		err = readable(name, info)
	}
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(in, mostInput+1))
	if len(text) > mostInput {
		return nil, tooMuch(name)
	}
	return text, err
}

// readable refuses what has no end or is too large, before any of it is read.
func readable(name string, info fs.FileInfo) error {
	switch mode := info.Mode(); {
	case mode.IsDir():
		return fmt.Errorf("%s is a folder, not a file", called(name))
	case mode&fs.ModeDevice != 0:
		return fmt.Errorf("%s is a device, not a file", called(name))
	case mode.IsRegular() && info.Size() > mostInput:
		return tooMuch(name)
	}
	return nil
}

func tooMuch(name string) error {
	return fmt.Errorf("%s holds more than the %d bytes that are read of a file", called(name), mostInput)
}

// called is the name of a file in messages.
func called(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// readInput reads a parameter file.
func readInput(ctx context.Context, name string) ([]byte, error) {
	text, err := readFile(ctx, name)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case errors.Is(err, fs.ErrNotExist):
		return nil, &outcome{exitInput, fmt.Sprintf("%s: there is no such file; 'clampwright new --to %s' writes a starter", name, name)}
	case err != nil:
		return nil, &outcome{exitInput, err.Error()}
	}
	return text, nil
}
