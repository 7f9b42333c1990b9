package main

import (
	"fmt"
	"strings"
)

// fishCompletion is the completion for fish 3.
func fishCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString(`# fish completion for rotorsieve

# Whether the command is the one named.
function __rotorsieve_is
    set -l words (commandline -opc)
    test (count $words) -ge 2; and test $words[2] = $argv[1]
end

function __rotorsieve_bare
    test (count (commandline -opc)) -eq 1
end

# Words of a list, after what stands before the last comma.
function __rotorsieve_list
    set -l before (string match -r '^(?:--[a-z-]*=)?(.*,)?' -- (commandline -ct))[2]
    for word in $argv
        echo "$before$word"
    end
end

function __rotorsieve_flag_file
    set -l token (commandline -ct)
    string match -q '@*' -- $token; or return
    for file in (__fish_complete_path (string sub -s 2 -- $token))
        echo @$file
    end
end

complete -c rotorsieve -f
complete -c rotorsieve -a '(__rotorsieve_flag_file)'
`)
	for _, c := range all {
		fmt.Fprintf(&b, "complete -c rotorsieve -n __rotorsieve_bare -a %s -d %s\n", c.name, quoted(c.line))
	}
	for _, c := range all {
		at := fmt.Sprintf("complete -c rotorsieve -n '__rotorsieve_is %s'", c.name)
		for _, f := range c.flags {
			fmt.Fprintf(&b, "%s -l %s%s -d %s\n", at, f.name, fishTakes(f), quoted(f.help))
		}
		switch {
		case c.operands == nil:
		case c.operands()[0] == aFolder:
			fmt.Fprintf(&b, "%s -a '(__fish_complete_directories)'\n", at)
		default:
			fmt.Fprintf(&b, "%s -a %s\n", at, quoted(strings.Join(c.operands(), " ")))
		}
	}
	return b.String()
}

// fishTakes says how a flag's value is completed.
func fishTakes(f completedFlag) string {
	words := strings.Join(f.words, " ")
	switch {
	case f.toggle:
		return ""
	case f.item == aFile:
		return " -r -F"
	case f.item == aFolder:
		return " -x -a '(__fish_complete_directories)'"
	case len(f.words) == 0:
		return " -x"
	case f.list:
		// > would be a redirection in the command that is run.
		return " -x -a " + quoted("(__rotorsieve_list "+strings.NewReplacer(">", `\>`, "<", `\<`).Replace(words)+")")
	}
	return " -x -a " + quoted(words)
}
