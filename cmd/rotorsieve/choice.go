package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"
)

var (
	_ pflag.Value = (*choice)(nil)
	_ pflag.Value = (*phrase)(nil)
)

// choice is the value of a flag that takes one of a few words.
type choice struct {
	to    *string
	item  string // what a word names
	words []string
}

// newChoice makes the value of a flag that takes one of words, and sets *to to
// the first.
func newChoice(to *string, item string, words ...string) *choice {
	*to = words[0]
	return &choice{to, item, words}
}

func (c *choice) Set(text string) error {
	text = strings.TrimSpace(text)
	if !slices.Contains(c.words, text) {
		return fmt.Errorf("no %s %q, %s", c.item, text, wanted(text, c.words))
	}
	*c.to = text
	return nil
}

func (c *choice) String() string   { return *c.to }
func (c *choice) Type() string     { return c.item }
func (c *choice) offers() []string { return c.words }

// newFormat is the value of the flag that says in what form a result is printed.
func newFormat(to *string) *choice { return newChoice(to, "format", "text", "json") }

// phrase is the value of a flag that takes any text.
type phrase struct {
	to   *string
	item string // what the text names
	read bool   // it is a file that is there
	none string // why "none" is refused; "" where it is a text as others are
	drop bool   // "none" stands for nothing
	bare bool   // an empty text is refused where the file is read
}

// What a text names, where a shell can complete it.
const (
	aFile   = "file"
	aFolder = "folder"
)

// newPlace makes the value of a flag that takes the path of what is written, or none for nothing.
func newPlace(to *string, item string) *phrase {
	p := newWords(to, item)
	p.drop = true
	return p
}

// newWords makes the value of a flag that takes a text, and empties *to.
func newWords(to *string, item string) *phrase {
	*to = ""
	return &phrase{to: to, item: item}
}

// newFile makes the value of a flag that takes the path of a file to read.
func newFile(to *string) *phrase {
	p := newWords(to, aFile)
	p.read = true
	return p
}

func (w *phrase) Set(text string) error {
	if (w.item == aFile || w.item == aFolder) && !w.bare && strings.TrimSpace(text) == "" {
		return errors.New("no path, want that of a " + w.item)
	}
	if strings.TrimSpace(text) == none {
		switch {
		case w.none != "":
			return errors.New(w.none)
		case w.drop:
			text = ""
		}
	}
	*w.to = text
	return nil
}

func (w *phrase) String() string { return *w.to }
func (w *phrase) Type() string   { return w.item }

// offerer is a flag value that knows what its texts may begin with. One that
// does not end a value ends in a character that something follows.
type offerer interface{ offers() []string }
