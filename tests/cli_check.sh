#!/bin/sh
# Runs each tests/cli/CASE in an empty folder of its own. A case holds
#   cmd     a shell script; it finds the program as logocane and the samples in $SAMPLES
#   stdout  what it must print (none: nothing), stderr likewise
#   exit    its status (none: 0)
#   files   the files that must be there in the end, sorted (none: no file)
#   slow    a mark: it runs several jobs, and is left out where FEW is set (with sanitizers, with a second compiler)
# Give names of cases to run only these.
build=${BUILD:-build}
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$build"
build=$(cd "$build" && pwd)
SAMPLES=$here/../samples PATH=$build:$PATH LC_ALL=C
export SAMPLES PATH LC_ALL
work=$build/cli
failed=0 run=0

# same CASE WHAT: compares what came with what the case wants
same() {
    want=$here/cli/$1/$2
    [ -e "$want" ] || want=/dev/null
    cmp -s "$want" "$work/$1.$2" && return
    echo "cli/$1: $2 differs" >&2
    diff "$want" "$work/$1.$2" | head -20 >&2
    bad=1
}

[ $# -gt 0 ] || set -- $(ls "$here/cli")
for case in "$@"; do
    [ -z "${FEW:-}" ] || [ ! -e "$here/cli/$case/slow" ] || continue
    bad=0 run=$((run + 1))
    chmod -R u+rwx "$work/$case" 2>/dev/null
    rm -rf "$work/$case"
    mkdir -p "$work/$case"
    status=0
    (cd "$work/$case" && sh "$here/cli/$case/cmd") >"$work/$case.stdout" 2>"$work/$case.stderr" </dev/null || status=$?
    echo $status >"$work/$case.exit"
    (cd "$work/$case" && find . ! -type d | sed 's,^\./,,' | sort) >"$work/$case.files"
    want=$(cat "$here/cli/$case/exit" 2>/dev/null || echo 0)
    [ "$status" = "$want" ] || { echo "cli/$case: status $status, not $want" >&2; bad=1; }
    for what in stdout stderr files; do same "$case" $what; done
    failed=$((failed + bad))
done
echo "cli: $run cases, $failed failed"
[ "$failed" = 0 ]
