#!/bin/sh
# Opens the lessons. The first time it fetches what they need, which takes some minutes.
cd "$(dirname "$0")" || exit 1
if command -v python3 >/dev/null 2>&1; then
  exec python3 start.py "$@"
fi
echo "Python is missing on this computer. Install Python 3.11 or newer, then open this file again."
