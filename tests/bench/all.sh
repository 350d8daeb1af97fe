#!/bin/sh
# Everything of this folder that DEVELOPERS.md tells of, in a quarter of an hour: all.sh PATH-OF-BECALM [--write]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON3:-/usr/bin/python3}" "$here/all.py" "$@"
