package whole

import (
	"errors"
	"runtime"
	"syscall"
	"testing"
	"unsafe"
)

// The folder is synced by the system, and not only asked for: where fsync fails,
// so does syncFolder, but for the answer of systems that have no such thing.
func TestSyncFolder(t *testing.T) {
	dir := t.TempDir()
	if err := syncFolder(dir); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ fsync, want error }{{syscall.EIO, syscall.EIO}, {syscall.EINVAL, nil}} {
		var refused, err error
		done := make(chan struct{})
		go func() {
			defer close(done)
			runtime.LockOSThread() // never unlocked: the thread ends with the goroutine
			if refused = failFsync(c.fsync.(syscall.Errno)); refused == nil {
				err = syncFolder(dir)
			}
		}()
		<-done
		if refused != nil {
			t.Skip("the kernel takes no filter of system calls:", refused)
		}
		if !errors.Is(err, c.want) {
			t.Errorf("where fsync fails with %v: error %v, want %v", c.fsync, err, c.want)
		}
	}
}

// failFsync has fsync fail with an error on the calling thread from now on, by a
// filter of system calls (seccomp).
func failFsync(err syscall.Errno) error {
	const (
		setNoNewPrivileges = 38 // of prctl
		filterMode         = 2  // of PR_SET_SECCOMP
		allow              = 0x7fff0000
		fail               = 0x00050000 // with the error in the low bits
	)
	filter := []syscall.SockFilter{
		{Code: syscall.BPF_LD | syscall.BPF_W | syscall.BPF_ABS, K: 0}, // number of the call
		{Code: syscall.BPF_JMP | syscall.BPF_JEQ | syscall.BPF_K, K: syscall.SYS_FSYNC, Jf: 1},
		{Code: syscall.BPF_RET | syscall.BPF_K, K: fail | uint32(err)},
		{Code: syscall.BPF_RET | syscall.BPF_K, K: allow},
	}
	program := syscall.SockFprog{Len: uint16(len(filter)), Filter: &filter[0]}
	if _, _, e := syscall.RawSyscall6(syscall.SYS_PRCTL, setNoNewPrivileges, 1, 0, 0, 0, 0); e != 0 {
		return e
	}
	if _, _, e := syscall.RawSyscall(syscall.SYS_PRCTL, syscall.PR_SET_SECCOMP, filterMode,
		uintptr(unsafe.Pointer(&program))); e != 0 {
		return e
	}
	return nil
}
