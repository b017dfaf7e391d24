#!/bin/sh
# The jobs of all samples, and one with all that a shop can add, against docs/job.schema.json; keys and columns against
# docs/formats.md: each that can be written is described, and none else.
set -eu
build=$(cd "${BUILD:-build}" && pwd)
cd "$(dirname "$0")/.."
work=$build/formats
rm -rf "$work"
mkdir -p "$work"
fail() { echo "formats: $*"; exit 1; }
# All files named to it at once: starting python takes longer than a look at a job.
valid() {
    /usr/bin/python3 -W ignore - "$@" <<'END'
import json, sys
import jsonschema
schema = json.load(open("docs/job.schema.json"))
check = jsonschema.validators.validator_for(schema)(schema)
wrong = ["%s: %s" % (name, error.message) for name in sys.argv[1:] for error in check.iter_errors(json.load(open(name)))]
print("\n".join(wrong))
sys.exit(bool(wrong))
END
}

# job.html is well-formed, fetches nothing, and links to each file beside it and to none else.
page() {
    /usr/bin/python3 - "$1" <<'END'
import os, sys
import xml.etree.ElementTree as tree
links, wrong = set(), []
for node in tree.parse(sys.argv[1] + "/job.html").iter():
    if node.tag in ("script", "link", "iframe", "object", "embed", "base", "form", "img"):
        wrong.append("a <%s>" % node.tag)
    for key, value in node.attrib.items():
        if key.startswith("on") or key in ("src", "style"):
            wrong.append("%s of <%s>" % (key, node.tag))
        if key == "href" and node.tag == "a":
            links.add(value)
        elif key == "href" and not value.startswith(("data:image/", "#")):
            wrong.append(value[:40])
files = set(os.listdir(sys.argv[1])) - {"job.html"}
wrong += ["%s: linked or there, not both" % name for name in links ^ files]
print("\n".join(wrong))
sys.exit(bool(wrong))
END
}

cat >"$work/shop.ini" <<'END'
[cook]
acid = 1.2 %
flavour = 0.25 %
[prices]
currency = EUR
candy_kg = 6.5
hour = 28
[stock]
only_named = yes
[candy white]
colour = #FFFFFF
dye = 0.1 %
[candy navy]
colour = #1A2454
dye = 0.02 %
END
set -- samples/*.png samples/*.jpg
[ -z "${FEW:-}" ] || set -- samples/harbour-cafe.png # where the program is slow: with sanitizers
for logo; do
    "$build/logocane" --json "$logo" >"$work/${logo##*/}.json" || [ $? = 1 ] || fail "$logo"
done
"$build/logocane" --json --shop "$work/shop.ini" --weight 3kg -m 1B2A5B=navy+2white -j white,navy samples/harbour-cafe.png \
    >"$work/shop.json"
valid "$work"/*.json || fail "a job does not fit docs/job.schema.json"
# The worth of each palette is made of what stands beside it, as docs/formats.md says.
/usr/bin/python3 - "$work"/*.json <<'END' || fail "a worth is made of something else"
import json, sys
tried = [one for name in sys.argv[1:] for one in json.load(open(name))["palettes_tried"]]
worth = lambda t: 0.4 * t["likeness"] + 0.05 * t["features"] - t["colour"] - 0.5 * t["contrast"] - 0.003 * t["loud"] - 0.01 * len(t["candies"])
sys.exit(not tried or any(abs(worth(one) - one["worth"]) > 1e-9 for one in tried))
END
sed 's/"format"/"former"/' "$work/shop.json" >"$work/broken"
if valid "$work/broken" >/dev/null 2>&1; then fail "a broken job passes"; fi

for units in mm in; do
    "$build/logocane" -q --units $units -o "$work/$units" samples/harbour-cafe.png
    page "$work/$units" || fail "job.html, in $units"
    "$build/logocane" -q --units $units --sweep=16:500 -o "$work/sweep-$units" samples/harbour-cafe.png
done
"$build/logocane" --csv --shop "$work/shop.ini" samples/harbour-cafe.png >"$work/in/logos.csv"
printf 'no picture' >"$work/no.png" # fails
"$build/logocane" --json --shop "$work/shop.ini" -o "$work/jobs" samples/kite-shop.png "$work/no.png" \
    >"$work/lines" || [ $? = 2 ] || fail "several logos"
cat "$work"/*/*.csv | tr -d '\r' | grep -E '^(rope|kind|candy,finish|piece_diam|file,|task,what)' | tr ',' '\n' | sort -u >"$work/columns"
/usr/bin/python3 - docs/job.schema.json "$work/lines" >"$work/keys" <<'END'
import json, sys
for line in open(sys.argv[2]):
    print("\n".join(json.loads(line)))
def walk(node):
    if isinstance(node, dict):
        properties = node.get("properties", {})
        print("\n".join(properties))
        for part in list(properties.values()) + [v for k, v in node.items() if k != "properties"]:
            walk(part)
    elif isinstance(node, list):
        for part in node:
            walk(part)
walk(json.load(open(sys.argv[1])))
END
sort -u "$work/columns" "$work/keys" | grep . >"$work/written"
[ "$(wc -l <"$work/columns")" -gt 40 ] && [ "$(wc -l <"$work/written")" -gt 150 ] || fail "too few names were found"
grep -o '`[a-z_0-9]*`' docs/formats.md | tr -d '`' | sort -u >"$work/described"
missing=$(comm -23 "$work/written" "$work/described")
[ -z "$missing" ] || fail "docs/formats.md does not describe" $missing
# What heads a row of a table is a column or a key.
sed -n 's/^| \(`[^|]*\) |.*/\1/p' docs/formats.md | grep -o '`[a-z_0-9]*`' | tr -d '`' | sort -u >"$work/headed"
more=$(comm -13 "$work/written" "$work/headed")
[ -z "$more" ] || fail "nothing writes" $more
echo "formats: $(ls "$work"/*.json | wc -l) jobs fit the schema; $(wc -l <"$work/written") names are described"
