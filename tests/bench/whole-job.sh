#!/bin/sh
# The whole job beside scipy: whole-job.sh PATH-OF-BECALM [options of whole_job.py, such as --long]
# BECALM_BENCH_DIR keeps the recordings between runs; without it they lie in a temporary folder and are removed.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON3:-/usr/bin/python3}" "$here/whole_job.py" "$@"
