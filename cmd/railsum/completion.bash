# Completion of railsum for bash. It needs no other package.
_railsum() {
    local line=${COMP_LINE:0:COMP_POINT} words cur flag out directive keep reply
    read -r -a words <<<"$line"
    [[ $line == *[[:space:]] ]] && words+=("")
    cur=${words[${#words[@]} - 1]}
    out=$("${words[0]}" __complete "${words[@]:1}" 2>/dev/null) || return
    directive=${out##*:}
    out=${out%:*}
    [[ $cur == --*=* ]] && flag=${cur%%=*}= # its values come without it
    # bash has taken the word apart at the signs it breaks words at.
    keep=${cur%"${cur##*["$COMP_WORDBREAKS"]}"}
    COMPREPLY=()
    while IFS=$'\t' read -r reply _; do
        if [[ -n $reply && $flag$reply == "$cur"* ]]; then
            reply=$flag$reply
            COMPREPLY+=("${reply#"$keep"}")
        fi
    done <<<"$out"
    if [[ $directive =~ ^[0-9]+$ ]] && ((directive & 4)); then
        compopt +o default 2>/dev/null # no names of files
    fi
}
complete -o default -F _railsum railsum
