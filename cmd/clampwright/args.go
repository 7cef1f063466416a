package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// optionsFirst moves a command's options in front of its other arguments, so
// that options may stand on either side of the file: 'make FILE --out DIR' as
// well as 'make --out DIR FILE'. The program's own options, which take no
// value, go before the command. What follows a lone '--' is left as it is.
func optionsFirst(app *cli.App, args []string) []string {
	at, cmd := commandOf(app, args)
	if cmd == nil {
		return args
	}
	options, rest := split(cmd.Flags, args[at+1:])
	if slices.ContainsFunc(options, func(o string) bool { return named([]cli.Flag{cli.HelpFlag}, o) != nil }) {
		return append(append([]string{}, args[:at+1]...), "--help") // the command's own, whatever else stands there
	}
	own, general := []string{args[at]}, append([]string{}, args[:at]...)
	for _, o := range options {
		if named(app.Flags, o) != nil {
			general = append(general, o)
		} else {
			own = append(own, o)
		}
	}
	return append(append(general, own...), rest...)
}

// commandOf finds the first argument that names a command; the options before
// it belong to the program and take no value.
func commandOf(app *cli.App, args []string) (int, *cli.Command) {
	for i := 1; i < len(args); i++ {
		if strings.HasPrefix(args[i], "-") {
			continue
		}
		for _, c := range app.Commands {
			if c.HasName(args[i]) {
				return i, c
			}
		}
		return 0, nil
	}
	return 0, nil
}

// split parts a command's arguments into options, with the values that belong
// to them, and the rest.
func split(flags []cli.Flag, args []string) (options, rest []string) {
	for i := 0; i < len(args); i++ {
		a := args[i]
		switch {
		case a == "--":
			return options, append(rest, args[i:]...)
		case !strings.HasPrefix(a, "-") || a == "-":
			rest = append(rest, a)
		default:
			options = append(options, a)
			if takesValue(flags, a) && i+1 < len(args) {
				i++
				options = append(options, args[i])
			}
		}
	}
	return options, rest
}

// takesValue says whether the next argument belongs to this option.
func takesValue(flags []cli.Flag, option string) bool {
	f := named(flags, option)
	_, isBool := f.(*cli.BoolFlag)
	return f != nil && !isBool && !strings.Contains(option, "=")
}

// named finds the flag that an option is of, or nil.
func named(flags []cli.Flag, option string) cli.Flag {
	name, _, _ := strings.Cut(strings.TrimLeft(option, "-"), "=")
	for _, f := range flags {
		if slices.Contains(f.Names(), name) {
			return f
		}
	}
	return nil
}
