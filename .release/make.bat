@echo off
rem Makes every parameter file that lies beside the program, and opens what to build by;
rem where a file is refused, nothing: what lies there is of an earlier run.
pushd "%~dp0"
if not exist *.yaml (
  clampwright.exe new --cells 4 --cell 54x174x200 --to pack.yaml
  echo pack.yaml is a starter: change it to your cells, and double-click again.
)
for %%f in (*.yaml) do (
  clampwright.exe make --out "%%~nf" "%%f"
  if not errorlevel 1 if exist "%%~nf\build-sheet.html" start "" "%%~nf\build-sheet.html"
  if errorlevel 3 if exist "%%~nf\build-sheet.html" start "" "%%~nf\build-sheet.html"
)
pause
popd
