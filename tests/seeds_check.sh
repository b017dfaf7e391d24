#!/bin/sh
# Runs each fuzz harness over its seeds: tests/seeds/NAME, by $BUILD/replay NAME.
build=${BUILD:-build}
count=0
for harness in tests/fuzz_*.c; do
    name=$(basename "$harness" .c)
    name=${name#fuzz_}
    "$build/replay" "$name" tests/seeds/"$name"/* 2>"$build/replay_$name.log" || {
        echo "seeds of $name: failed at"
        tail -n 20 "$build/replay_$name.log"
        exit 1
    }
    count=$((count + $(ls tests/seeds/"$name" | wc -l)))
done
echo "seeds: $count replayed"
