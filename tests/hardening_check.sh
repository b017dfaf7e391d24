#!/bin/sh
# Is the program built so that a mistake in it is hard to make use of? Asked of the binary itself, with readelf.
program=${BUILD:-build}/logocane
failed=0

# holds WHAT PATTERN READELF-OPTION...
holds() {
    what=$1 pattern=$2
    shift 2
    readelf -W "$@" "$program" | grep -q "$pattern" && return
    echo "hardening: $what: not so" >&2
    failed=$((failed + 1))
}

holds "position independent" 'Type: *DYN' -h
holds "position independent, and a program" 'Flags:.*PIE' -d
holds "bound at the start" 'Flags:.*NOW' -d
holds "relocations are read-only then" 'GNU_RELRO' -l
holds "the stack runs no code" 'GNU_STACK.* RW ' -l
holds "stack protector" 'UND __stack_chk_fail' --dyn-syms
if [ -n "$FORTIFY" ]; then
    holds "fortified" 'UND __fprintf_chk' --dyn-syms
else
    echo "hardening: fortify: skipped, this build has it off (no optimisation, or the sanitizers)"
fi
echo "hardening: $failed failed"
[ "$failed" = 0 ]
