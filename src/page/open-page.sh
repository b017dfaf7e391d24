#!/bin/sh
# Opens the page of logocane in the browser: open-page [LOGO]. Starts it first if nothing answers there; with a
# picture named, hands that to the page. SPDX-License-Identifier: MIT
set -u
PATH=@BIN@:$PATH
page=${LOGOCANE_PAGE:-http://127.0.0.1:8765/}
answers() { curl -fs --max-time 2 -o /dev/null "$page"; }
command -v curl >/dev/null || {
    echo "open-page: curl is missing; install it, or run logocane --page and open $page" >&2
    exit 3
}
if ! answers; then
    systemctl --user start logocane-page 2>/dev/null || setsid -f logocane --page >/dev/null 2>&1 </dev/null
    for _ in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
        answers && break
        sleep 0.25
    done
fi
answers || {
    echo "open-page: nothing answers at $page; run logocane --page in a terminal to see why" >&2
    exit 3
}
handed=
if [ $# -gt 0 ]; then
    token=$(curl -fs --max-time 5 "$page" | sed -n 's/.*name="token" content="\([0-9A-Za-z_-]*\)".*/\1/p')
    # The name alone goes along, and the picture's bytes: quotes and backslashes in a name would end it.
    name=$(basename -- "$1" | tr '"\134' '__')
    handed=$(curl -fs --max-time 30 -H "X-Logocane-Token: $token" -F "logo=@-;filename=\"$name\"" "${page}hand" <"$1") || {
        echo "open-page: $1 cannot be handed to the page; open $page and choose it there" >&2
        handed=
    }
fi
exec "${BROWSER:-xdg-open}" "$page${handed:+#}$handed"
