#!/bin/sh
# What does a run reach for? Traced with strace, while it replaces a job: only the logo, the shop file, the job
# folder beside the old one, and what the libraries read (themselves, fonts, the number of processors). It
# writes nothing but its own new files, starts no program and speaks to no network.
build=${BUILD:-build}
work=$build/reach
rm -rf "$work"
mkdir -p "$work/home" "$work/job"
: >"$work/job/face.png" # an old job
printf '[limits]\nleast_strip = 20 mm\n' >"$work/shop.ini"
cp samples/kite-shop.png "$work/logo.png"
program=$(cd "$build" && pwd)/logocane
cd "$work" || exit 1
if ! strace -o trace true 2>/dev/null; then
    echo "reach: skipped, a program cannot be traced here"
    exit 0
fi
# LeakSanitizer, where it is built in, cannot work under a tracer.
env -i HOME="$PWD/home" ASAN_OPTIONS=detect_leaks=0 strace -f -qq -s 4096 -o trace -e trace=%file,%network,%process \
    "$program" -q --force --shop shop.ini -o job logo.png
status=$?
grep -v '\.gcda"' trace >kept && mv kept trace # where lines are counted (make cov), the counts
failed=0

# none WHAT PATTERN FILE: no line of the file may match.
none() {
    grep -E "$2" "$3" >found || return
    echo "reach: $1:" >&2
    head -n 5 found >&2
    failed=$((failed + 1))
}

[ $status -le 1 ] || { echo "reach: the run ended with $status" >&2; failed=1; }
[ "$(grep -c 'openat(.*O_CREAT' trace)" = 14 ] || { echo "reach: it did not write fourteen files" >&2; failed=1; }

none "it speaks to a network" '^[0-9]+ +(socket|socketpair|connect|bind|listen|accept4?|send[a-z]*|recv[a-z]*)\(' trace
sed 1d trace >after # the first line is strace starting the program
none "it starts a program" '^[0-9]+ +(execve|execveat|fork|vfork)\(' after
grep -E '^[0-9]+ +clone3?\(' trace | grep -v CLONE_THREAD >children
none "it starts a process" . children

# Names, without the calls and numbers round them; then without those that it may use. Where it stands is an answer, no name
# that is looked at: fontconfig asks for it on Debian 13.
ours=$(cd job && printf '%s|' *.*)
sed -n '/^[0-9]* *getcwd(/d; s/^[0-9]* *[a-z0-9_]*([^"]*"\([^"]*\)".*/\1/p' after | sort -u >names
# libselinux, which comes with GLib, asks as it is loaded whether there is SELinux.
selinux='/etc/selinux/config$|/proc/filesystems$|(/sys/fs)?/selinux$'
# GnuTLS, which comes with libmicrohttpd, reads its settings as it is loaded.
libraries="/(usr/)?lib(32|64)?/|/etc/ld\.so\.|/etc/gnutls/config\$|/proc/self/|/etc/localtime\$|/sys/devices/system/cpu/|$selinux"
fonts="/etc/fonts|/usr/(local/)?share/font|/var/cache/fontconfig|$PWD/home/\.(fonts|fontconfig|cache/fontconfig|config/fontconfig|local/share/fonts)"
grep -vE "^($libraries|$fonts)" names |
    grep -vxE "(|\.|logo\.png|shop\.ini|job|job\.unfinished-logocane|job\.replaced-logocane|${ours%|})" >others
none "it looks at" . others

# A new file must be new (no link is followed), and one of ours; a library may renew the cache of fonts.
grep -E 'O_WRONLY|O_RDWR|O_CREAT|O_TRUNC' trace | grep -v fontconfig |
    grep -vE "\"(${ours%|})\", O_WRONLY\|O_CREAT\|O_EXCL\|O_NOFOLLOW" >writes
none "it writes" . writes
grep -E '^[0-9]+ +(mkdir|rename|unlink|rmdir|link|symlink|chmod|fchmod|chown|truncate|utime|mknod)[a-z0-9]*\(' trace |
    grep -v fontconfig | grep -vE "\([0-9]+, \"(job[.a-z-]*|${ours%|})\"" >changes
none "it changes" . changes
echo "reach: $(wc -l <names) names looked at, $failed failed"
[ "$failed" = 0 ]
