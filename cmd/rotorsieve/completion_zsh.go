package main

import (
	"fmt"
	"strings"
)

// zshCompletion is the completion for zsh 5, as a file of fpath or sourced.
func zshCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString(`#compdef rotorsieve

_rotorsieve_list() {
    compset -P '*,'
    _rotorsieve_words "$@"
}

# Words that something follows are completed without a space.
_rotorsieve_words() {
    local -a ended unended
    ended=("${(@)@:#*[=:]}")
    unended=("${(@M)@:#*[=:]}")
    (( $#ended )) && compadd -- "${ended[@]}"
    (( $#unended )) && compadd -S '' -- "${unended[@]}"
}

_rotorsieve_operand() {
    if [[ $PREFIX == @* ]]; then
        compset -P '@'
        _files
    elif (( $# )); then
        "$@"
    fi
}

_rotorsieve() {
    local curcontext=$curcontext state line
    local -a commands
    commands=(
`)
	for _, c := range all {
		fmt.Fprintf(&b, "        %s\n", quoted(c.name+":"+c.line))
	}
	b.WriteString(`    )
    _arguments -C '1:command:->command' '*::argument:->argument' && return
    case $state in
    command) _describe command commands; return ;;
    esac
    case $words[1] in
`)
	for _, c := range all {
		fmt.Fprintf(&b, "    %s)\n        _arguments", c.name)
		for _, f := range c.flags {
			spec := "*--" + f.name
			if !f.toggle {
				spec += "="
			}
			spec += "[" + zshText(f.help) + "]"
			if !f.toggle {
				spec += ":" + zshText(f.item) + ":" + zshAction(f)
			}
			fmt.Fprintf(&b, " \\\n            %s", quoted(spec))
		}
		action := " _rotorsieve_operand"
		switch {
		case c.operands == nil:
		case c.operands()[0] == aFolder:
			action += " _files -/"
		default:
			action += " compadd -- " + strings.Join(c.operands(), " ")
		}
		fmt.Fprintf(&b, " \\\n            %s\n        ;;\n", quoted("*:argument:"+action))
	}
	b.WriteString(`    esac
}

if [[ $funcstack[1] == _rotorsieve ]]; then
    _rotorsieve "$@"
else
    compdef _rotorsieve rotorsieve
fi
`)
	return b.String()
}

// zshAction completes what a flag takes. A space before a function of our own
// keeps zsh from adding arguments to it.
func zshAction(f completedFlag) string {
	switch {
	case f.item == aFile:
		return "_files"
	case f.item == aFolder:
		return "_files -/"
	case len(f.words) == 0:
		return " "
	}
	how := " _rotorsieve_words"
	if f.list {
		how = " _rotorsieve_list"
	}
	for _, w := range f.words {
		how += ` "` + strings.ReplaceAll(w, ":", `\:`) + `"`
	}
	return how
}

// zshText keeps a text from ending a part of a specification.
func zshText(text string) string {
	return strings.NewReplacer("[", `\[`, "]", `\]`, ":", `\:`).Replace(text)
}
