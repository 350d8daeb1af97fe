#!/bin/sh
# One document or all of them, first run or again: documents.sh PATH-OF-BECALM [--long]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON3:-/usr/bin/python3}" "$here/documents.py" "$@"
