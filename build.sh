#!/bin/sh
# Becalm's one door: fetches what is missing, configures, builds, runs. `./build.sh` alone prints the help.
#
# Exit codes: 0 done; 1 a build or a test failed; 2 bad usage, or packages are missing and cannot be installed from here.
set -eu

called_from=$(pwd)
project=$(cd "$(dirname "$0")" && pwd)
cd "$project"

# ---- what each command needs from Debian ------------------------------------------------------------------------------

build_packages="g++ cmake ninja-build pkg-config libfftw3-dev libeigen3-dev libsndfile1-dev libmseed-dev libhdf5-dev libtomlplusplus-dev
    nlohmann-json3-dev libcli11-dev libfmt-dev libexpected-dev libssl-dev libxxhash-dev libxlsxwriter-dev zlib1g-dev
    libpango1.0-dev libcairo2-dev librsvg2-dev libpoppler-glib-dev"
# of the desktop program; the fonts are for its tests, which run without a screen
desktop_packages="qt6-base-dev qt6-svg-dev libpoppler-qt6-dev portaudio19-dev qt6-l10n-tools qt6-tools-dev qt6-tools-dev-tools"
desktop_test_packages="fonts-dejavu-core"
# of the Python module
python_packages="python3-dev pybind11-dev python3-numpy"
test_packages="libgtest-dev libgmock-dev librapidcheck-dev gcovr python3-scipy python3-jsonschema python3-openpyxl poppler-utils tidy bzip2 libmatio-dev libmseed-doc"
bench_packages="libbenchmark-dev python3-scipy"
fuzz_packages="clang-16 libclang-rt-16-dev"
format_packages="clang-format"
tidy_packages="clang-tidy"

# ---- talking ----------------------------------------------------------------------------------------------------------

say() { printf '\n== %s\n' "$*"; }

complain() { printf 'build.sh: %s\n' "$*" >&2; }

help() {
    cat <<'END'
Usage: ./build.sh COMMAND

  demo             build, write an invented survey into ./demo-survey (kept when it is there already) and judge it
  test [again]     build with sanitizers and with optimisation, run every test in one of the two, those of the mathematics in both
                   (again: every test that is quick enough for the sanitizers in both)
  coverage         build with sanitizers and counters, run the tests, print which part of each source they reach
  build            build the programs: build/release/ui/cli/becalm and build/release/ui/desktop/becalm-desktop
  bench            build and run the benchmarks
  fuzz [SECONDS] [FORMAT]...
                   fuzz every reader of foreign files (or those of the FORMATs) for SECONDS each (60); what is found lies in
                   build/fuzz/found
  install PREFIX   build, then install programs, libraries, headers, data, CMake package and Python module under PREFIX
  translate        look for new words of the desktop in its sources and put them into ui/desktop/translations
  format           lay out every source file by .clang-format (format --check: only tell which differ)
  tidy             run clang-tidy over every source file

Packages that a command needs and Debian has not installed yet are installed first: at once for root, else by sudo, else
the line to run is printed. CXX, CXXFLAGS and JOBS (parallel compilations) are taken from the environment.
END
}

# ---- packages ---------------------------------------------------------------------------------------------------------

is_installed() { [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]; }

missing_of() {
    for package in "$@"; do
        is_installed "$package" || printf '%s ' "$package"
    done
}

# Lists can be absent (a fresh image) or stale (a package that has moved on); the second try covers the latter.
install_script='
    export DEBIAN_FRONTEND=noninteractive
    set -- -y -qq --no-install-recommends "$@"
    if ls /var/lib/apt/lists/*_Packages* >/dev/null 2>&1 && apt-get install "$@"; then exit 0; fi
    apt-get update -qq && apt-get install "$@"'

need() {
    if ! command -v dpkg-query >/dev/null 2>&1; then
        complain "this is no Debian; going on in the hope that these are here by other names: $*"
        return
    fi
    missing=$(missing_of "$@")
    [ -n "$missing" ] || return 0
    by_hand="apt-get update && apt-get install -y --no-install-recommends ${missing% }"

    # Nobody is there to type a password in a CI job.
    as_root=
    if [ "$(id -u)" -ne 0 ]; then as_root="sudo ${CI:+-n}"; fi
    if [ -z "$as_root" ] || command -v sudo >/dev/null 2>&1; then
        say "Installing ${missing% }"
        # $as_root and $missing are lists of words on purpose.
        # shellcheck disable=SC2086
        $as_root sh -c "$install_script" sh $missing || true
    fi
    still_missing=$(missing_of "$@")
    if [ -n "$still_missing" ]; then
        complain "packages are missing: ${still_missing% }; as root, run this line, then start again:"
        echo "$by_hand" >&2
        exit 2
    fi
}

# ---- building ---------------------------------------------------------------------------------------------------------

# A compilation with the sanitizers takes up to 1.2 GB; more of them at once than fit into memory would end in the swap.
jobs() {
    if [ -n "${JOBS:-}" ]; then
        echo "$JOBS"
        return
    fi
    processors=$(nproc)
    by_memory=$(awk '/^MemAvailable:/ { n = int($2 / 1200000); print (n < 1) ? 1 : n }' /proc/meminfo 2>/dev/null || true)
    if [ -n "$by_memory" ] && [ "$by_memory" -lt "$processors" ]; then echo "$by_memory"; else echo "$processors"; fi
}

# For precompiled headers: ccache cannot see which macros they define (see BECALM_PCH).
export CCACHE_SLOPPINESS="${CCACHE_SLOPPINESS:+$CCACHE_SLOPPINESS,}pch_defines,time_macros"

# configure PRESET [-DNAME=VALUE]...
configure() {
    preset=$1
    shift
    if command -v ccache >/dev/null 2>&1; then set -- "$@" -DCMAKE_CXX_COMPILER_LAUNCHER=ccache; fi
    say "Configuring ($preset)"
    mkdir -p "build/$preset"
    if ! cmake --preset "$preset" "$@" >"build/$preset/configure.log" 2>&1; then
        cat "build/$preset/configure.log" >&2
        complain "configuring failed; see above or build/$preset/configure.log"
        exit 1
    fi
}

# compile PRESET [--target NAME]
compile() {
    preset=$1
    shift
    say "Building ($preset)"
    cmake --build --preset "$preset" --parallel "$(jobs)" "$@" || {
        complain "the build failed; see above"
        exit 1
    }
}

# Warnings are errors with the compiler the project is kept clean for; a newer one may know warnings we have not met yet.
strictness() {
    case $("${CXX:-g++}" -dumpversion) in
        12 | 12.*) echo -DBECALM_WARNINGS_AS_ERRORS=ON ;;
        *) echo -DBECALM_WARNINGS_AS_ERRORS=OFF ;;
    esac
}

# build_program [-DNAME=VALUE]...: what is not needed for the command line alone is left to the caller.
build_program() {
    # shellcheck disable=SC2086
    need $build_packages
    configure release -DBECALM_TESTS=OFF -DBECALM_BENCH=OFF "$(strictness)" "$@"
}

own_sources() { find src filters evaluators ui tests -name '*.cpp' -o -name '*.h' | LC_ALL=C sort; }

# ---- commands ---------------------------------------------------------------------------------------------------------

# The demo is the first thing somebody runs: it does without the desktop and its libraries.
run_demo() {
    build_program -DBECALM_DESKTOP=OFF -DBECALM_PYTHON=OFF
    compile release --target becalm
    becalm=build/release/ui/cli/becalm
    if [ -e demo-survey/survey.toml ]; then
        say "Using the survey that is in demo-survey (delete the folder for a fresh one)"
    else
        say "becalm demo demo-survey"
        "$becalm" demo demo-survey
    fi
    say "becalm assess demo-survey/survey.toml"
    "$becalm" assess demo-survey/survey.toml
}

# configure_sanitized [-DNAME=VALUE]...
configure_sanitized() {
    # shellcheck disable=SC2086
    need $build_packages $desktop_packages $desktop_test_packages $python_packages $test_packages
    configure debug -DBECALM_TESTS=ON -DBECALM_DESKTOP=ON "$@"
    compile debug
}

# run_tests [again]: what ran whole under the sanitizers is left out of the optimised build, unless asked for again.
run_tests() {
    case ${1:-} in
        '') again=OFF ;;
        again) again=ON ;;
        *) complain "test takes again or nothing, not $1"; exit 2 ;;
    esac
    configure_sanitized -DBECALM_COVERAGE=OFF
    say "Testing with AddressSanitizer and UndefinedBehaviorSanitizer"
    ctest --preset debug -j "$(jobs)" || {
        complain "tests failed under the sanitizers; see above"
        exit 1
    }

    configure release -DBECALM_TESTS=ON -DBECALM_TESTS_AGAIN=$again -DBECALM_DESKTOP=ON -DBECALM_PYTHON=ON -DBECALM_BENCH=OFF \
        -DBECALM_WARNINGS_AS_ERRORS=ON
    compile release
    say "Testing the optimised build"
    ctest --preset release -j "$(jobs)" || {
        complain "tests failed in the optimised build; see above"
        exit 1
    }
}

run_coverage() {
    configure_sanitized -DBECALM_COVERAGE=ON
    # Counts of an earlier run would add up, and clash with objects compiled since.
    find build/debug -name '*.gcda' -delete
    ctest --preset debug -j "$(jobs)" || complain "tests failed; what they did not reach counts as not covered"

    say "Coverage"
    # The innermost loops count without atomic operations, so two threads can leave a count that makes no sense (a branch taken -1
    # times): such a line is left out.
    gcovr --root . -j "$(jobs)" --filter src/ --filter filters/ --filter evaluators/ --filter ui/ --exclude-throw-branches \
        --exclude-unreachable-branches --gcov-ignore-parse-errors --print-summary \
        build/debug/src build/debug/filters build/debug/evaluators build/debug/ui
}

run_bench() {
    # shellcheck disable=SC2086
    need $build_packages $test_packages $bench_packages
    configure release -DBECALM_TESTS=ON -DBECALM_TESTS_AGAIN=ON -DBECALM_DESKTOP=OFF -DBECALM_BENCH=ON "$(strictness)"
    compile release --target bench
}

# Two at once on two processors. Corpora grow from run to run in build/fuzz/corpus; a file that breaks a reader is kept.
run_fuzz() {
    seconds=${1:-60}
    [ $# -eq 0 ] || shift
    case $seconds in '' | *[!0-9]*) complain "fuzz takes seconds, not $seconds"; exit 2 ;; esac
    # shellcheck disable=SC2086
    need $build_packages $fuzz_packages
    configure fuzz
    compile fuzz
    export BECALM_DATA="$project/data"
    fuzzers=build/fuzz/tests/fuzz
    "$fuzzers/write_seeds" build/fuzz/seeds
    mkdir -p build/fuzz/found build/fuzz/logs
    say "Fuzzing for $seconds s each"
    while IFS='=' read -r format program; do
        if [ $# -gt 0 ]; then case " $* " in *" $format "*) ;; *) continue ;; esac; fi
        mkdir -p "build/fuzz/corpus/$format"
        printf '%s\0%s\0' "$format" "$program"
    done <"$fuzzers/corpora" | xargs -0 -r -n 2 -P "$(jobs)" sh -c '
        if "$0/fuzz_$3" -max_total_time="$1" -timeout=20 -rss_limit_mb=1024 -malloc_limit_mb=512 -max_len=65536 \
            -artifact_prefix="build/fuzz/found/$2-" "build/fuzz/corpus/$2" "build/fuzz/seeds/$2" >"build/fuzz/logs/$2" 2>&1
        then printf "%s: %s\n" "$2" "$(grep -E "^Done" "build/fuzz/logs/$2")"
        else tail -n 40 "build/fuzz/logs/$2"; printf "%s: BROKEN, see build/fuzz/logs/%s\n" "$2" "$2"; exit 1
        fi' "$fuzzers" "$seconds" || {
        complain "a reader gave in to a file; it lies in build/fuzz/found"
        exit 1
    }
}

run_install() {
    case $1 in
        /*) prefix=$1 ;;
        *) prefix=$called_from/$1 ;;
    esac
    # shellcheck disable=SC2086
    need $desktop_packages $python_packages
    build_program -DBECALM_DESKTOP=ON -DBECALM_PYTHON=ON "-DCMAKE_INSTALL_PREFIX=$prefix"
    compile release
    say "Installing under $prefix"
    cmake --install build/release
}

run_translate() {
    build_program
    say "Looking for words to translate"
    cmake --build build/release --target translate
    grep -c 'type="unfinished"' ui/desktop/translations/*.ts || true
}

run_format() {
    # shellcheck disable=SC2086
    need $format_packages
    case ${1:-} in
        '') own_sources | xargs clang-format -i ;;
        --check) own_sources | xargs clang-format --dry-run -Werror ;;
        *) complain "format takes --check or nothing, not $1"; exit 2 ;;
    esac
}

run_tidy() {
    # shellcheck disable=SC2086
    need $build_packages $desktop_packages $python_packages $test_packages $tidy_packages
    configure release -DBECALM_TESTS=ON -DBECALM_TESTS_AGAIN=ON -DBECALM_DESKTOP=ON -DBECALM_PYTHON=ON "$(strictness)"
    # Headers are looked at through the sources that include them (HeaderFilterRegex in .clang-tidy).
    # The command lines are written for GCC, so clang meets an option it does not know.
    own_sources | grep '\.cpp$' | grep -v -e '^tests/architecture/consumer/' -e '^ui/example/' |
        xargs -n 1 -P "$(jobs)" clang-tidy -p build/release --quiet --extra-arg=-Wno-error --extra-arg=-Wno-unknown-warning-option
}

command=${1:-help}
[ $# -eq 0 ] || shift
case $command in
    install) wanted="$# = 1" ;;
    format | test) wanted="$# -le 1" ;;
    fuzz) wanted="$# -ge 0" ;;
    *) wanted="$# = 0" ;;
esac
# shellcheck disable=SC2086
if ! [ $wanted ]; then
    complain "$command was given the wrong number of arguments; ./build.sh help shows them"
    exit 2
fi

case $command in
    help | -h | --help) help ;;
    demo) run_demo ;;
    test) run_tests "$@" ;;
    coverage) run_coverage ;;
    build)
        # shellcheck disable=SC2086
        need $desktop_packages
        build_program -DBECALM_DESKTOP=ON
        compile release --target becalm --target becalm-desktop
        ;;
    bench) run_bench ;;
    fuzz) run_fuzz "$@" ;;
    install) run_install "$1" ;;
    translate) run_translate ;;
    format) run_format "$@" ;;
    tidy) run_tidy ;;
    *)
        complain "there is no command \"$command\""
        help >&2
        exit 2
        ;;
esac
