#!/bin/sh
# The house: src/ has rooms, and includes go down the list below only. A header that other rooms include says "Public." at
# its head; the rest are private to their room. A file of code includes its own header first, or one of its room; no headers go round in a
# circle. Each struct of model/ says which stage fills it. With --draw: how many includes go from room to room.
set -eu
cd "$(dirname "$0")/.."
/usr/bin/python3 - "$@" <<'END_OF_CHECK'
import glob, re, sys
MAY = {  # room: the rooms that it may include beside itself
    "base": "", "model": "base", "read": "base model", "inks": "base model", "parts": "base model",
    "plan": "base model parts", "bench": "base model", "judge": "base model parts", "say": "base model",
    "draw": "base model say", "write": "base model say draw",
    "run": "base model read inks parts plan bench judge say draw write",
    "page": "base",
    "app": "base model read inks parts plan bench judge say draw write run page"}
text = {path[4:]: open(path).read() for path in sorted(glob.glob("src/*/*.[ch]"))}
includes = {path: re.findall(r'^#include "([\w/]+\.h)"', words, re.M) for path, words in text.items()}
public = {path for path, words in text.items() if path.endswith(".h") and words.startswith("/* Public. ")}
wrong, arrows, used = [], {}, set()
for path, names in includes.items():
    room = path.split("/")[0]
    own = path[:-2] + ".h"
    if path.endswith(".c") and names and names[0] != own and (own in text or not names[0].startswith(room + "/")):
        wrong.append("%s does not include its own header first, or one of its room's" % path)
    for name in names:
        other = name.split("/")[0]
        if name not in text:
            wrong.append("%s includes %s, which is not there" % (path, name))
        elif other != room:
            arrows[room, other] = arrows.get((room, other), 0) + 1
            used.add(name)
            if other not in MAY.get(room, "").split():
                wrong.append("%s includes %s: not down the list" % (path, name))
            if name not in public:
                wrong.append("%s includes %s, which is private to %s/" % (path, name, other))
wrong += ["%s is public and no other room includes it" % name for name in sorted(public - used)]

functions = set(re.findall(r"^\w[\w *]*?(\w+)\(", "\n".join(text[p] for p in text if p.endswith(".h")), re.M))
nouns = 0
for path in sorted(p for p in public if re.match(r"model/(?!colour)", p)):
    words = re.sub(r"\n +\* ", " ", text[path].replace("\n *\n", "\n * "))
    nouns += len(re.findall(r"^(?:typedef )?struct \w+ \{", words, re.M))
    for before, name in re.findall(r"^(.*)\n(?:typedef )?struct (\w+) \{", words, re.M):
        if not re.search(r"[Ff]illed by|names the stage that fills|A value:|no stage fills", before):
            wrong.append("%s: struct %s does not say which stage fills it" % (path, name))
    for name in set(re.findall(r"(?:[Ff]illed by|/\* by) (\w+)", words)) - functions:
        wrong.append("%s: %s fills nothing: there is no such function" % (path, name))
if nouns < 30:
    wrong.append("only %d nouns" % nouns)

def circle(name, way):
    if name in way:
        return way[way.index(name):] + [name]
    return next(filter(None, (circle(other, way + [name]) for other in includes.get(name, []))), None)

for name in sorted(includes):
    found = name.endswith(".h") and circle(name, [])
    if found:
        wrong.append("headers in a circle: " + " -> ".join(found))
        break
rooms = {path.split("/")[0] for path in text}
if rooms - set(MAY) or sum(arrows.values()) < 200:
    wrong.append("rooms %s, %d includes between them" % (" ".join(sorted(rooms)), sum(arrows.values())))
if "--draw" in sys.argv:
    for room in MAY:
        out = ["%s %d" % (other, arrows[room, other]) for other in MAY if (room, other) in arrows]
        print("%-6s -> %s" % (room, ", ".join(out)))
print("\n".join("house: " + line for line in wrong) or "house: %d rooms, %d public headers of %d, includes go one way" % (
    len(rooms), len(public), sum(path.endswith(".h") for path in text)))
sys.exit(bool(wrong))
END_OF_CHECK
