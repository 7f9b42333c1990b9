package main

import (
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(apart{m}, map[string]func(){
		"rotorsieve": func() { main() },
	})
}

// apart runs tests apart from the user's cache: with one of their own, which goes with them.
type apart struct{ *testing.M }

func (a apart) Run() int {
	dir, err := os.MkdirTemp("", "rotorsieve-cache")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(dir)
	if err := os.Setenv(cacheVariable, filepath.Join(dir, "solved")); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	if builds, err = os.MkdirTemp("", "rotorsieve-built"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(builds)
	// What nohup starts ignores a hangup, and so would the commands that tests hang up; a signal
	// that is listened to is not ignored by what is started here.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	return a.M.Run()
}

// builds is where the command is built that tests kill and interrupt.
var builds string

// Whole commands: testdata/script holds what is typed and what must come of it.
func TestScripts(t *testing.T) {
	dir, files := "testdata/script", []string(nil)
	if testing.Short() { // the others write whole reports
		dir, files = "", []string{"testdata/script/errors.txtar", "testdata/script/help.txtar"}
	}
	testscript.Run(t, testscript.Params{
		Dir: dir, Files: files,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			// status N rotorsieve ARGS... runs the command and compares its exit status.
			"status": status,
		},
		Setup: func(e *testscript.Env) error {
			e.Setenv(cacheVariable, filepath.Join(e.WorkDir, ".solved"))
			return nil
		},
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
	})
}

func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command...")
	}
	want := args[0]
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if e, ok := err.(interface{ ExitCode() int }); ok {
		got = string(rune('0' + e.ExitCode()))
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %s, want %s", got, want)
	}
}
