#!/bin/sh
# A large survey's report as HTML and as PDF: reports.sh PATH-OF-BECALM [--rounds N]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON3:-/usr/bin/python3}" "$here/reports.py" "$@"
