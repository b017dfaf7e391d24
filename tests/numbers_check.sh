#!/bin/sh
# docs/numbers.md against the program: every key of the shop with its built-in value, range and standing, as
# --print-shop has them; every limit of the judging files with its value; and no row that the source does not have.
set -eu
build=$(cd "${BUILD:-build}" && pwd)
cd "$(dirname "$0")/.."
"$build/logocane" --print-shop | /usr/bin/python3 -c '
import glob, re, sys
ALL = ["judge", "face_areas", "cool", "cook", "match_candy", "dyes", "far_colour"]  # all limits of these must be told of
text = open("docs/numbers.md").read()
wrong = []
section = remark = None
keys = 0
for line in sys.stdin.read().splitlines():
    head = re.match(r"\[(.*)\]", line)
    key = re.match(r"(?:; )?([a-z_]+) = ?(.*)$", line)
    if head:
        section = head.group(1)
        if section.startswith(("candy", "stock")):
            break
    elif key:
        told = re.match(r"; .*; ((?:a whole number, )?[\d.]+ to [^()]*|at most [^()]*|yes or no) \((.*)\)$", remark)
        row = "| `%s` | %s | %s | %s | %s |" % (key[1], section, key[2] or "none", told[1], told[2])
        keys += 1
        if row not in text:
            wrong.append("no row " + row)
    else:
        remark = line
if keys < 30:
    wrong.append("only %d keys" % keys)

def limits(name):
    source = "".join(open(path).read() for path in glob.glob("src/*/%s.[ch]" % name))
    source = re.sub(r"/\*.*?\*/", " ", source, flags=re.S)
    found = dict(re.findall(r"^#define (\w+)[ \\\n]+([\d.]+)f?\s*$", source, re.M))
    for row in re.findall(r"^static const (?:double|float) ([^;{]+);", source, re.M):
        found.update(re.findall(r"(\w+)\s*=\s*([\d.]+(?:e-?\d+)?)", row))
    found.pop("slack", None)  # of the arithmetic
    return found

rows = re.findall(r"^\| `(\w+)` \| ([\d.]+) \|[^|]*\| `(\w+)\.[ch]` \|", text, re.M)
for name, value, file in rows:
    has = limits(file).get(name)
    if has is None or float(has) != float(value):
        wrong.append("%s.c: %s is %s, told as %s" % (file, name, has, value))
told = {(file, name) for name, _, file in rows}
for file in ALL:
    found = limits(file)
    if not found:
        wrong.append("no limits in %s.c" % file)
    wrong += ["%s.c: %s is not told of" % (file, name) for name in found if (file, name) not in told]
print("\n".join("numbers: " + w for w in wrong) or "numbers: %d keys and %d limits stand in docs/numbers.md" % (keys, len(rows)))
sys.exit(bool(wrong))
'
