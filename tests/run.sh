#!/bin/sh
# Runs each cmocka test program, then each tests/*_check.sh; the last line counts the programs.
passed=0 failed=0
for program in "$@"; do
    if "$program"; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED: $program" >&2; fi
done
for script in tests/*_check.sh; do
    [ -e "$script" ] || continue
    if sh "$script"; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED: $script" >&2; fi
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
