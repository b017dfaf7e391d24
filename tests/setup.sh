#!/bin/sh
# Looks which of the Debian packages named are missing: setup.sh install|say TARGET PACKAGE...
# `install` installs them, without questions, and says what to install where it cannot. `say` says that `make TARGET`
# does it, and fails. Where none is missing it does nothing.
how=$1 target=$2
shift 2
missing=
for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
done
[ -z "$missing" ] && exit 0
if [ "$how" = say ]; then
    echo "missing:$missing; \`make $target\` installs what is missing, through apt" >&2
    exit 1
fi
if [ "$(id -u)" = 0 ]; then as=; elif command -v sudo >/dev/null; then as=sudo; else
    echo "please install, as root: apt-get install$missing" >&2
    exit 1
fi
echo "installing$missing" >&2
$as apt-get update -qq && $as env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null || {
    echo "that did not work; please install, as root: apt-get install$missing" >&2
    exit 1
}
