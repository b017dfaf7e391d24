#!/bin/sh
# The house: which file of src/ includes which. The stages are a line and not a web: only the top knows them, no stage or
# helper includes an output or the top, and no headers go round in a circle. With --draw the arrows between stages and
# outputs are printed, too.
set -eu
cd "$(dirname "$0")/.."
/usr/bin/python3 - "$@" <<'END'
import glob, os, re, sys
includes = {os.path.basename(path): [name for name in re.findall(r'^#include "(\w+)\.h"', open(path).read(), re.M)]
            for path in glob.glob("src/*.[ch]")}
nouns = {"picture", "colour", "ink", "candy", "order", "shop", "cane", "grid", "layup", "block", "bill", "heat",
         "recipe", "judgement", "place", "image", "job"}
base = {"err", "mem", "units", "geom"}
top = {"job", "run", "main", "advise", "sweep", "trial"}
stages = ["decode", "find_inks"] + [name for name in includes["job.c"] if name not in nouns | base]
outputs = {file[:-2] for file in includes if file.startswith(("draw_", "write_"))}
wrong, arrows = [], 0
for file, names in sorted(includes.items()):
    own = file[:-2]
    if file.endswith(".c") and own + ".h" in includes and names[:1] != [own]:
        wrong.append("%s does not include its own header first" % file)
    for name in names:
        if name == own:
            continue
        if own in stages or own in outputs or name in stages or name in outputs:
            arrows += 1
            if "--draw" in sys.argv and (name in stages or name in outputs):
                print("%s -> %s" % (file, name))
        if name in stages and (own not in top or file == "job.h"):
            wrong.append("%s includes the stage %s" % (file, name))
        if name in outputs and own not in outputs | {"run", "sweep"}:
            wrong.append("%s includes the output %s" % (file, name))
        if own in nouns and file.endswith(".h") and name not in nouns | base | {"placement"}:
            wrong.append("the noun %s includes %s" % (file, name))

def circle(name, path):
    if name in path:
        return path[path.index(name):] + [name]
    for other in includes.get(name + ".h", []):
        found = circle(other, path + [name])
        if found:
            return found

for name in sorted(includes):
    found = name.endswith(".h") and circle(name[:-2], [])
    if found:
        wrong.append("headers in a circle: " + " -> ".join(found))
        break
if len(stages) < 12 or arrows < 100:
    wrong.append("only %d stages and %d arrows were found" % (len(stages), arrows))
print("\n".join("house: " + line for line in wrong) or "house: %d stages, one way" % len(stages))
sys.exit(bool(wrong))
END
