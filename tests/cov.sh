#!/bin/sh
# Coverage of src/ (without the stb files) after the tests ran in a build with --coverage: cov.sh BUILD.
# Prints each file that is not whole, the sum, and each failing return that no test reached; those are listed in
# tests/unreached.txt with the reason. Fails under 95 % of the lines, or on such a return that is not listed.
build=$1
out=$build/cov.txt
: >"$out"
for source in src/*/*.c; do
    case $source in src/*/stb_*) continue ;; esac
    # Headers come along, and a function built for several processors comes once for each: a line counts if any was run.
    gcov -t -o "$build/$(basename "$(dirname "$source")")" "$source" 2>/dev/null | awk -v file="$source" '
        { split($0, part, ":"); count = part[1]; gsub(/ /, "", count); line = part[2] + 0 }
        line == 0 { if (part[3] == "Source") ours = part[4] == file; next }
        !ours || count == "-" { next }
        { seen[line] = 1; if (count !~ /^[#=]+$/) hit[line] = 1
          text = $0; sub(/^[^:]*:[^:]*: */, "", text); code[line] = text; if (line > last) last = line }
        END { for (line = 1; line <= last; line++) {
                  if (line in seen) lines++
                  if (line in seen && !(line in hit)) { missed++; print "missed " file ":" line ": " code[line] }
              }
              print "file " file " " lines + 0 " " missed + 0 }' >>"$out"
done
awk '$1 == "file" { all += $3; missed += $4
         if ($4 > 0) printf "%5.1f %%  %4d of %4d missed  %s\n", 100 * ($3 - $4) / $3, $4, $3, $2 }
     END { printf "coverage: %.2f %% of %d lines of src/ without stb\n", 100 * (all - missed) / all, all
           exit !(missed * 20 <= all) }' "$out"
enough=$?
grep '^missed' "$out" | grep -E 'return (false|NULL|-1|.*(err_set|wrong|damaged)\()' | sed 's/^missed //' >"$build/unreached.txt"
unlisted=0 listed=0
while IFS= read -r line; do
    file=${line%%:*} text=${line#*: }
    if grep -qF -- "$file: $text" tests/unreached.txt; then listed=$((listed + 1)); else
        unlisted=$((unlisted + 1))
        echo "not reached, not listed: $line"
    fi
done <"$build/unreached.txt"
echo "failing returns not reached: $listed listed with a reason, $unlisted not"
[ $enough = 0 ] && [ $unlisted = 0 ]
