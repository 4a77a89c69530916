@echo off
rem Opens the lessons. The first time it fetches what they need, which takes some minutes.
cd /d "%~dp0"
where py >nul 2>nul && (py -3 start.py %* & goto end)
where python >nul 2>nul && (python start.py %* & goto end)
echo Python is missing on this computer. Install Python 3.11 or newer, then open this file again.
:end
pause
