#!/bin/sh
# A year of one point out of a pipe, and questions to its ledger: year.sh PATH-OF-BECALM [--days N] [--whole]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON3:-/usr/bin/python3}" "$here/year.py" "$@"
