#!/bin/sh
# Installs the Debian packages named that are missing, without questions; says what to install where it cannot.
missing=
for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
done
[ -z "$missing" ] && exit 0
if [ "$(id -u)" = 0 ]; then as=; elif command -v sudo >/dev/null; then as=sudo; else
    echo "please install, as root: apt-get install$missing" >&2
    exit 1
fi
echo "installing$missing" >&2
$as apt-get update -qq && $as env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null || {
    echo "that did not work; please install, as root: apt-get install$missing" >&2
    exit 1
}
