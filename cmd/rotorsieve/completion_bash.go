package main

import (
	"fmt"
	"strings"
)

// bashCompletion is the completion for bash 4 and later. It looks at the words
// as they stand on the line, since bash itself parts them at signs such as = and
// >, and hands back what follows the last part.
func bashCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString(`# bash completion for rotorsieve

_rotorsieve() {
    local line=${COMP_LINE:0:COMP_POINT} words cur prev flag= command= takes=
    read -ra words <<<"$line"
    cur=
    [[ $line == *[[:space:]] ]] || { cur=${words[-1]}; unset 'words[-1]'; }
    prev=${words[-1]}
    command=${words[1]-}
    if [[ $cur == --*=* ]]; then
        flag=${cur%%=*}
    elif [[ $prev == --* && $prev != *=* ]]; then
        flag=$prev
    fi
    local flags= operands=
    case $command in
`)
	for _, c := range all {
		var flags []string
		for _, f := range c.flags {
			flags = append(flags, "--"+f.name)
		}
		fmt.Fprintf(&b, "    %s) flags=%s", c.name, quoted(strings.Join(flags, " ")))
		if c.operands != nil {
			fmt.Fprintf(&b, " operands=%s", quoted(strings.Join(c.operands(), " ")))
		}
		b.WriteString(" ;;\n")
	}
	b.WriteString("    esac\n    case $command$flag in\n")
	for _, c := range all {
		for _, f := range c.flags {
			if f.toggle {
				continue
			}
			fmt.Fprintf(&b, "    %s--%s) takes=%s ;;\n", c.name, f.name, quoted(bashTakes(f)))
		}
	}
	fmt.Fprintf(&b, `    *) flag= ;;
    esac

    local typed=$cur before= choices=
    COMPREPLY=()
    if [[ ${#words[@]} -le 1 ]]; then
        choices=%s
    elif [[ $flag ]]; then
        if [[ $cur == "$flag="* ]]; then
            before=$flag=
            typed=${cur#"$before"}
        fi
        choices=$takes
        if [[ $typed == *,* && $takes == list\ * ]]; then
            before+=${typed%%,*},
            typed=${typed##*,}
        fi
        choices=${choices#list }
    elif [[ $cur == @* ]]; then
        before=@
        typed=${cur#@}
        choices=file
    elif [[ $cur == -* ]]; then
        choices=$flags
    else
        choices=$operands
    fi

    local found word
    case $choices in
    file) mapfile -t found < <(compgen -f -- "$typed") ;;
    folder) mapfile -t found < <(compgen -d -- "$typed") ;;
    *) mapfile -t found < <(compgen -W "$choices" -- "$typed") ;;
    esac
    # What bash replaces is the part of the word after its last word break.
    local part=${COMP_WORDS[COMP_CWORD]} parted
    part=${part##[=:@<>]}
    parted=${cur%%"$part"}
    for word in "${found[@]}"; do
        [[ $choices == f* && -d $word ]] && word+=/
        printf -v word %%q "$word"
        word=$before$word
        COMPREPLY+=("${word#"$parted"}")
    done
    if [[ ${#COMPREPLY[@]} == 1 && ${COMPREPLY[0]} == *[/=:] ]]; then
        compopt -o nospace 2>/dev/null
    fi
}
complete -F _rotorsieve rotorsieve
`, quoted(strings.Join(commandNames(), " ")))
	return b.String()
}

// bashTakes is what the script knows of a flag's value: file, folder, words, or
// list and words.
func bashTakes(f completedFlag) string {
	switch {
	case len(f.words) == 0 && (f.item == aFile || f.item == aFolder):
		return f.item
	case f.list:
		return "list " + strings.Join(f.words, " ")
	}
	return strings.Join(f.words, " ")
}

// quoted is a text in single quotes, for any of the shells. None of the texts
// holds a single quote or a backslash but for those of the help, where they are
// written with care for each shell.
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
