#!/bin/sh
# Runs each cmocka test program and each tests/*_check.sh, as many at once as there are cores; prints what each said, in
# order, then those that failed; the last line counts them.
logs=$(mktemp -d)
trap 'rm -rf "$logs"' EXIT
set -- tests/*_check.sh "$@" # the scripts take longest: first
# shellcheck disable=SC2016
printf '%s\n' "$@" | xargs -P "$(nproc)" -I{} sh -c '
    log=$2/$(basename "$1")
    case $1 in *.sh) sh "$1" ;; *) "$1" ;; esac >"$log.out" 2>&1 || : >"$log.failed"' sh {} "$logs"
passed=0 failed=0
for test in "$@"; do
    log=$logs/$(basename "$test")
    cat "$log.out"
    if [ -e "$log.failed" ]; then failed=$((failed + 1)); else passed=$((passed + 1)); fi
done
for test in "$@"; do
    [ -e "$logs/$(basename "$test").failed" ] && echo "FAILED: $test"
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
