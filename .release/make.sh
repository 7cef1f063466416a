#!/bin/sh
# Makes every parameter file that lies beside the program, and opens what to build by;
# where a file is refused, nothing: what lies there is of an earlier run.
cd "$(dirname "$0")" || exit 1
if ! ls ./*.yaml >/dev/null 2>&1; then
	./clampwright new --cells 4 --cell 54x174x200 --to pack.yaml
	echo "pack.yaml is a starter: change it to your cells, and double-click again."
fi
for file in ./*.yaml; do
	out=${file%.yaml}
	./clampwright make --out "$out" "$file"
	made=$? sheet=$out/build-sheet.html
	[ "$made" -ne 0 ] && [ "$made" -ne 3 ] && continue
	[ -f "$sheet" ] && { open "$sheet" || xdg-open "$sheet"; } 2>/dev/null
done
printf 'Press Enter to close. '
read -r _ || true
