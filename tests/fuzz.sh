#!/bin/sh
# fuzz.sh SECONDS HARNESS...: runs each harness, built in $BUILD, for so long; what it finds new is kept in
# $BUILD/corpus/HARNESS, what it breaks is left in $BUILD/crash/HARNESS and ends the run.
seconds=$1
shift
for name; do
    case $name in
    png) options='-max_len=4096 -dict=tests/seeds/png.dict' ;;
    jpeg) options='-max_len=4096 -dict=tests/seeds/jpeg.dict' ;;
    stb) options='-max_len=4096 -dict=tests/seeds/stb.dict' ;;
    options) options='-max_len=512 -dict=tests/seeds/options.dict' ;;
    shop) options='-max_len=2048 -dict=tests/seeds/shop.dict' ;;
    page) options='-max_len=2048 -dict=tests/seeds/page.dict' ;;
    pipeline | again | work) options='-max_len=384 -len_control=0' ;;
    *) options='-max_len=256' ;;
    esac
    mkdir -p "$BUILD/corpus/$name" "$BUILD/crash/$name" "tests/seeds/$name"
    echo "== $name"
    # shellcheck disable=SC2086
    "$BUILD/fuzz_$name" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=2048 -print_final_stats=1 \
        -artifact_prefix="$BUILD/crash/$name/" $options "$BUILD/corpus/$name" "tests/seeds/$name" \
        >"$BUILD/$name.log" 2>&1 || { tail -n 40 "$BUILD/$name.log"; exit 1; }
    grep -E ' DONE |number_of_executed_units|peak_rss' "$BUILD/$name.log"
done
