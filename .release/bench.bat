@echo off
rem Opens the bench page of the parameter file beside the program, the one saved last;
rem without one, the page begins with questions and writes it.
pushd "%~dp0"
set "file="
for /f "delims=" %%f in ('dir /b /a-d /o-d *.yaml 2^>nul') do if not defined file set "file=%%f"
if defined file clampwright.exe serve "%file%"
if not defined file clampwright.exe serve
pause
popd
