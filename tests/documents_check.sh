#!/bin/sh
# The documents: every link, anchor and picture leads somewhere, every picture is shown and under 300 kB, every option named is one of
# --help, and the README's example and the other shop's lines in docs/shop.md are what the program prints today. With
# --write the README's example is written anew.
set -eu
build=$(cd "${BUILD:-build}" && pwd)
cd "$(dirname "$0")/.."
"$build/logocane" -j red,navy samples/harbour-cafe.png >"$build/example.txt"
"$build/logocane" samples/night-ferry.png >"$build/ferry.txt"
"$build/logocane" --details --shop samples/two-person-kitchen.ini samples/fox-books.png >"$build/kitchen.txt"
"$build/logocane" --help >"$build/help.txt"
/usr/bin/python3 - "$build/example.txt" "$build/help.txt" "$build/kitchen.txt" "$build/ferry.txt" "$@" <<'END'
import glob, os, re, sys
wrong = []
documents = ["README.md", "DEVELOPERS.md", "samples/README.md"] + sorted(glob.glob("docs/*.md"))

def anchors(path):
    """Headings as the usual renderers name them: small letters, no punctuation, '-' for spaces."""
    text = re.sub(r"^(```|~~~).*?^\1", "", open(path).read(), flags=re.M | re.S)
    heads = re.findall(r"^#+ +(.*?)\s*$", text, re.M)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}

def check_link(path, target):
    if re.match(r"https?://|mailto:", target):
        return
    file, _, anchor = target.partition("#")
    file = os.path.normpath(os.path.join(os.path.dirname(path), file)) if file else path
    if not os.path.exists(file):
        wrong.append("%s: %s is not there" % (path, target))
    elif anchor and anchor not in anchors(file):
        wrong.append("%s: %s has no such heading" % (path, target))
    elif file.endswith((".png", ".jpg")) and os.path.getsize(file) >= 300 * 1000:
        wrong.append("%s: %s is %d bytes" % (path, target, os.path.getsize(file)))

links = 0
shown = set()
known = set(re.findall(r"--[a-z][a-z-]+", open(sys.argv[2]).read()))
others = {"docs/many.md": "--joblog --resume --resume-failed --sshloginfile --workdir --array --cpus-per-task".split(),
          "docs/page.md": "--user --now".split()}
for path in documents:
    text = open(path).read()
    plain = re.sub(r"^```.*?^```", "", text, flags=re.M | re.S)
    for target in re.findall(r"\]\(([^)\s]+)\)", plain) + re.findall(r'src="([^"]+)"', plain):
        links += 1
        shown.add(os.path.normpath(os.path.join(os.path.dirname(path), target)))
        check_link(path, target)
    if path not in ("DEVELOPERS.md", "docs/trust.md"):  # they speak of other programs' options too
        for option in set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", text)) - known - set(others.get(path, [])):
            wrong.append("%s: %s is no option" % (path, option))
for picture in glob.glob("docs/*.png") + glob.glob("docs/*.jpg"):
    if picture not in shown:
        wrong.append("%s is shown nowhere" % picture)
if links < 20:
    wrong.append("only %d links" % links)

readme, today = open("README.md").read(), open(sys.argv[1]).read()
example = re.search(r"^```\n(GO: harbour-cafe.*?)^```", readme, re.M | re.S)
if "--write" in sys.argv:
    open("README.md", "w").write(readme.replace(example[1], today))
elif not example or example[1] != today:
    wrong.append("README.md: the example is not what is printed; run sh tests/documents_check.sh --write")
guide = re.search(r"^```\n(CHANGE: night-ferry.*?)^```", open("docs/guide.md").read(), re.M | re.S)
if not guide or guide[1] != open(sys.argv[4]).read():
    wrong.append("docs/guide.md: the example is not what is printed; copy %s into it" % sys.argv[4])
told = re.search(r"^```\n(CHANGE: fox-books.*?)^```", open("docs/shop.md").read(), re.M | re.S)
printed = open(sys.argv[3]).read().splitlines()
for line in told[1].splitlines() if told else ["(no example)"]:
    if line not in printed:
        wrong.append("docs/shop.md: not printed by the two-person kitchen: " + line)
print("\n".join("documents: " + line for line in wrong) or "documents: %d links lead somewhere" % links)
sys.exit(bool(wrong))
END
