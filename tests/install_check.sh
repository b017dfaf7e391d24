#!/bin/sh
# Installs into a folder of its own, runs what is there, and takes it away again: nothing but ours may go. Then the
# manual page is linted, and the archive packed, unpacked and packed again from the unpacked files.
set -eu
build=${BUILD:-build}
here=$(cd "$build" && pwd)/install
unset MAKEFLAGS MAKELEVEL MFLAGS
fail() { echo "install: $*"; exit 1; }
rm -rf "$here"
mkdir -p "$here/root dir/usr/share/doc/logocane"
cd "$(dirname "$0")/.."
make -s install BUILD="$build" DESTDIR="$here/root dir" PREFIX=/usr >/dev/null
echo mine >"$here/root dir/usr/share/doc/logocane/mine"
cd "$here/root dir/usr"
for file in bin/logocane share/man/man1/logocane.1 share/bash-completion/completions/logocane \
    share/zsh/site-functions/_logocane share/doc/logocane/LICENSE share/doc/logocane/README.md \
    share/doc/logocane/docs/guide.md share/doc/logocane/docs/job.schema.json libexec/logocane/open-page \
    lib/systemd/user/logocane-page.service share/applications/logocane.desktop; do
    [ -s "$file" ] || fail "no $file"
done
[ "$(stat -c %a bin/logocane)" = 755 ] && [ "$(stat -c %a share/man/man1/logocane.1)" = 644 ] || fail "modes"
! grep -q "@[A-Z]*@" libexec/logocane/open-page lib/systemd/user/*.service share/applications/*.desktop || fail "a place is not filled in"
grep -q "^ExecStart=/usr/bin/logocane --page" lib/systemd/user/logocane-page.service || fail "the unit runs another program"
bin/logocane -q share/doc/logocane/samples/harbour-cafe.png || fail "the installed program does not judge"
cd - >/dev/null
make -s uninstall BUILD="$build" DESTDIR="$here/root dir" PREFIX=/usr >/dev/null
left=$(cd "$here/root dir" && find . ! -type d)
[ "$left" = ./usr/share/doc/logocane/mine ] || fail "left after uninstall: $left"
left=$(cd "$here/root dir/usr" && find . -type d | sort | tr '\n' ' ')
[ "$left" = ". ./bin ./share ./share/doc ./share/doc/logocane ./share/man " ] || fail "folders left after uninstall: $left"

mandoc -Tlint docs/logocane.1 || fail "the manual page does not lint"

export SOURCE_DATE_EPOCH=1700000000
archive=$(make -s dist BUILD="$build")
mkdir "$here/unpacked"
tar -xzf "$archive" -C "$here/unpacked"
cd "$here"/unpacked/logocane-*
make -s dist BUILD=build >/dev/null
cmp "build/${archive##*/}" "$OLDPWD/$archive" || fail "the archive packs differently when unpacked"
echo "install: installs, runs, goes; the archive is whole"
