package main

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
)

// The table of exit statuses is the same wherever it is published.
func TestStatuses(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	words := func(text string) string {
		return strings.Join(strings.Fields(strings.NewReplacer(`\-`, "-", "\n.br\n", " ").Replace(text)), " ")
	}
	for where, text := range map[string]string{"help": said(t, "help"), "help status": said(t, "help", "status"),
		"the manual page": manPage(newRoot()), "the doc comment": docComment(t), "README.md": string(readme)} {
		for i, s := range exitStatuses {
			if s.status != i {
				t.Fatalf("status %d stands in place %d", s.status, i)
			}
			if !regexp.MustCompile(fmt.Sprintf(`\b%d:? %s`, s.status,
				regexp.QuoteMeta(words(s.meaning)))).MatchString(words(text)) {
				t.Errorf("%s does not say what %d means: %s", where, s.status, s.meaning)
			}
		}
	}
}
