package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
)

// Completion scripts: each asks the program itself what can follow.
var completions = map[string]string{
	"bash": `_clampwright() {
  local cur="${COMP_WORDS[COMP_CWORD]}"
  local words=("${COMP_WORDS[@]:0:COMP_CWORD}")
  COMPREPLY=($(compgen -W "$("${words[@]}" --generate-bash-completion 2>/dev/null)" -f -- "$cur"))
}
complete -o filenames -F _clampwright clampwright
`,
	"zsh": `#compdef clampwright
_clampwright() {
  local -a opts
  opts=("${(@f)$(${words[@]:0:#words[@]-1} --generate-bash-completion 2>/dev/null)}")
  compadd -a opts
  _files
}
compdef _clampwright clampwright
`,
	"fish": `complete -c clampwright -f -a '(eval (commandline -opc) --generate-bash-completion 2>/dev/null)'
complete -c clampwright -F
`,
}

func completionCommand(ui *console) *cli.Command {
	return &cli.Command{
		Name:        "completion",
		Usage:       "print a shell completion script",
		ArgsUsage:   "bash|zsh|fish",
		Description: "Example: source <(clampwright completion bash)",
		Action: func(c *cli.Context) error {
			script, ok := completions[c.Args().First()]
			if !ok || c.NArg() != 1 {
				return &outcome{exitInput, "completion for which shell? bash, zsh or fish"}
			}
			_, err := fmt.Fprint(ui.out, script)
			return err
		},
		BashComplete: func(*cli.Context) {
			fmt.Fprintln(ui.out, strings.Join([]string{"bash", "zsh", "fish"}, "\n"))
		},
	}
}
