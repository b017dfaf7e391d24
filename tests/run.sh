#!/bin/sh
# Runs each tests/*_check.sh and each command named (a test program, "RUNNER NAME"), as many at once as there are cores;
# prints what each said, in order, then those that failed; the last line counts them.
logs=$(mktemp -d)
trap 'rm -rf "$logs"' EXIT
{
    for script in tests/*_check.sh; do echo "sh $script"; done # these take longest: first
    for test; do echo "$test"; done
} >"$logs/list"
# shellcheck disable=SC2016
xargs -d '\n' -P "$(nproc)" -I{} sh -c 'log=$2/${1##*[ /]}; $1 >"$log.out" 2>&1 || : >"$log.failed"' sh {} "$logs" <"$logs/list"
passed=0 failed=0
while read -r test; do
    log=$logs/${test##*[ /]}
    cat "$log.out"
    if [ -e "$log.failed" ]; then failed=$((failed + 1)); else passed=$((passed + 1)); fi
done <"$logs/list"
while read -r test; do
    [ -e "$logs/${test##*[ /]}.failed" ] && echo "FAILED: $test"
done <"$logs/list"
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
