#!/bin/sh
# Opens the bench page of the parameter file beside the program, the one saved last;
# without one, the page begins with questions and writes it.
cd "$(dirname "$0")" || exit 1
file=$(ls -t ./*.yaml 2>/dev/null | head -n 1)
./clampwright serve ${file:+"$file"}
printf 'Press Enter to close. '
read -r _ || true
