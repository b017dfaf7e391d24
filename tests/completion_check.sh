#!/bin/sh
# Completes command lines in bash as its line editor would, and has zsh, if there is one, read its file.
BUILD=$(cd "${BUILD:-build}" && pwd) exec bash -c '
. "$BUILD/completion.bash"
compopt() { :; }
failed=0
# wants "COMPLETIONS, each in <>" WORD...: the last word is the one to complete
wants() {
    local want=$1; shift
    COMP_WORDS=(logocane "$@") COMP_CWORD=$# COMPREPLY=()
    _logocane
    local got; got=$(printf "<%s>" "${COMPREPLY[@]}")
    [[ $got == "$want" ]] || { echo "completion: $*: $got, not $want"; failed=1; }
}
wants "<--shop>" --sh
wants "<--no-fine>" --no
wants "<navy>" -f na
wants "<clear\ amber><clear\ red>" -j cl
wants "<red,sky\ blue>" -j red,sk
wants "<red,sky blue>" --jacket "'\''red,sk"
wants "<#112233=violet>" -m "'\''#112233=vi"
wants "<dye>" -m 112233 = dy
wants "<navy>" --field = na
wants "<normal>" --detail n
wants "<mm><in>" --units ""
wants "<mm><in>" --units =
wants "<>" -n ""
wants "<>" ferry
COMP_WORDS=(logocane --) COMP_CWORD=1
_logocane
for option in $("$BUILD/logocane" --help | grep -o -- "--[a-z][a-z-]*" | sort -u); do
    [[ " ${COMPREPLY[*]} " == *" $option "* ]] || { echo "bash: no $option"; failed=1; }
    grep -q -- "$option[]=\[ })'\'']" "$BUILD/completion.zsh" || { echo "zsh: no $option"; failed=1; }
done
! command -v zsh >/dev/null || zsh -n "$BUILD/completion.zsh" || failed=1
[[ $failed == 0 ]] && echo "completion: bash and zsh know every option"
exit $failed'
