//go:build linux && amd64

package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"
	"unsafe"
)

// The program is watched with ptrace and not with a preloaded library: what Go itself writes, links and
// renames never passes through the C library, where only SQLite's calls do.

// calls of the system that change what is on the disk, or make that sure.
var calls = map[uint64]string{
	syscall.SYS_OPEN: "open", syscall.SYS_OPENAT: "open", syscall.SYS_CREAT: "open", sysOpenat2: "open",
	syscall.SYS_WRITE: "write", syscall.SYS_PWRITE64: "write", syscall.SYS_WRITEV: "write", syscall.SYS_PWRITEV: "write",
	sysCopyFileRange: "write", syscall.SYS_SENDFILE: "write",
	syscall.SYS_FTRUNCATE: "truncate", syscall.SYS_TRUNCATE: "truncate", syscall.SYS_FALLOCATE: "truncate",
	syscall.SYS_FSYNC: "flush", syscall.SYS_FDATASYNC: "flush",
	syscall.SYS_RENAME: "rename", syscall.SYS_RENAMEAT: "rename", sysRenameat2: "rename",
	syscall.SYS_LINK: "link", syscall.SYS_LINKAT: "link", syscall.SYS_SYMLINK: "link", syscall.SYS_SYMLINKAT: "link",
	syscall.SYS_UNLINK: "unlink", syscall.SYS_UNLINKAT: "unlink", syscall.SYS_RMDIR: "unlink",
	syscall.SYS_MKDIR: "mkdir", syscall.SYS_MKDIRAT: "mkdir",
	syscall.SYS_CHMOD: "chmod", syscall.SYS_FCHMOD: "chmod", syscall.SYS_FCHMODAT: "chmod",
}

// Numbers that the package syscall does not have.
const (
	sysSeccomp       = 317
	sysRenameat2     = 316
	sysCopyFileRange = 326
	sysOpenat2       = 437
)

// call is one such call that the program is about to make.
type call struct {
	kind string
	path string // what it changes
	fd   string // its handle under /proc, for calls that have one
	nr   uint64
	size uint64 // of a write
}

// answer is what becomes of a call.
type answer struct {
	errno   syscall.Errno // it fails with that
	pretend bool          // it does nothing and says that it did
	half    bool          // of a write only half is done
	stop    bool          // the program is killed before it
}

// ended is how a run came out.
type ended struct {
	code     int // -1 when it was killed
	out, err string
	hung     bool
}

const (
	hookVariable    = "SKEGWORTH_SAFE_WATCHED" // tells this program that it is to become the other
	programVariable = "SKEGWORTH_SAFE_PROGRAM" // the other
	longest         = 2 * time.Minute
)

// watch runs the program with every call on files below the folder shown to decide first, one after the
// other. Only one watch may run on a thread, so it keeps its own.
func watch(folder string, env []string, typed string, decide func(call) answer, words ...string) (ended, error) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	self, err := os.Executable()
	if err != nil {
		return ended{}, err
	}
	var files [3]*os.File
	for i := range files {
		if files[i], err = os.CreateTemp(scratch, "std-*"); err != nil {
			return ended{}, err
		}
		defer os.Remove(files[i].Name())
		defer files[i].Close()
	}
	if _, err := files[0].WriteAt([]byte(typed), 0); err != nil {
		return ended{}, err
	}
	pid, err := syscall.ForkExec(self, append([]string{self}, words...), &syscall.ProcAttr{
		Dir: folder, Env: append(env, hookVariable+"=1"), Files: []uintptr{files[0].Fd(), files[1].Fd(), files[2].Fd()},
		Sys: &syscall.SysProcAttr{Ptrace: true, Pdeathsig: syscall.SIGKILL},
	})
	if err != nil {
		return ended{}, fmt.Errorf("watch the program: %w", err)
	}
	hung := time.AfterFunc(longest, func() { _ = syscall.Kill(pid, syscall.SIGKILL) })
	code, err := follow(pid, folder, decide)
	end := ended{code: code, hung: !hung.Stop()}
	if err != nil {
		return end, err
	}
	for i, text := range []*string{&end.out, &end.err} {
		data, err := os.ReadFile(files[i+1].Name())
		if err != nil {
			return end, err
		}
		*text = string(data)
	}
	return end, nil
}

const (
	wall, noThread = 0x40000000, 0x20000000 // __WALL, __WNOTHREAD: children of this thread alone
	traceSeccomp   = 0x80                   // PTRACE_O_TRACESECCOMP
	exitKill       = 0x100000               // PTRACE_O_EXITKILL
	eventSeccomp   = 7
)

// follow lets the program run from stop to stop and returns its exit code.
func follow(pid int, folder string, decide func(call) answer) (int, error) {
	var status syscall.WaitStatus
	if _, err := syscall.Wait4(pid, &status, wall|noThread, nil); err != nil {
		return 0, err
	}
	options := traceSeccomp | exitKill | syscall.PTRACE_O_TRACECLONE | syscall.PTRACE_O_TRACEFORK | syscall.PTRACE_O_TRACEVFORK | syscall.PTRACE_O_TRACEEXEC
	if err := syscall.PtraceSetOptions(pid, options); err != nil {
		_ = syscall.Kill(pid, syscall.SIGKILL)
		return 0, fmt.Errorf("watch the program: %w", err)
	}
	resume := func(thread, signal int) { _ = syscall.PtraceCont(thread, signal) } // one that is gone needs none
	resume(pid, 0)
	for {
		thread, err := syscall.Wait4(-1, &status, wall|noThread, nil)
		switch {
		case errors.Is(err, syscall.EINTR):
			continue
		case err != nil:
			return 0, fmt.Errorf("watch the program: %w", err)
		case status.Exited() && thread == pid:
			return status.ExitStatus(), nil
		case status.Signaled() && thread == pid:
			return -1, nil
		case !status.Stopped():
			continue
		}
		signal := status.StopSignal()
		switch {
		case signal == syscall.SIGTRAP && status.TrapCause() == eventSeccomp:
			stop, err := meet(thread, folder, decide)
			if err != nil {
				_ = syscall.Kill(pid, syscall.SIGKILL)
				return 0, err
			}
			if stop {
				_ = syscall.Kill(pid, syscall.SIGKILL)
				continue
			}
			resume(thread, 0)
		case signal == syscall.SIGTRAP, signal == syscall.SIGSTOP: // an event, a thread that begins
			resume(thread, 0)
		default:
			resume(thread, int(signal))
		}
	}
}

// meet decides on one call.
func meet(thread int, folder string, decide func(call) answer) (stop bool, err error) {
	var regs syscall.PtraceRegs
	if err := syscall.PtraceGetRegs(thread, &regs); err != nil {
		return false, nil // it was killed meanwhile
	}
	c, ours := read(thread, &regs, folder)
	if !ours {
		return false, nil
	}
	a := decide(c)
	switch {
	case a.stop:
		return true, nil
	case a.errno != 0:
		regs.Orig_rax, regs.Rax = ^uint64(0), uint64(-int64(a.errno))
	case a.pretend:
		regs.Orig_rax, regs.Rax = ^uint64(0), 0
	case a.half && (c.nr == syscall.SYS_WRITE || c.nr == syscall.SYS_PWRITE64):
		regs.Rdx = c.size / 2
	default:
		return false, nil
	}
	return false, syscall.PtraceSetRegs(thread, &regs)
}

// read makes a call of what stands in the registers; ours is false for one that changes nothing below the folder.
func read(thread int, regs *syscall.PtraceRegs, folder string) (c call, ours bool) {
	c = call{kind: calls[regs.Orig_rax], nr: regs.Orig_rax}
	handle := func(fd uint64) {
		c.fd = fmt.Sprintf("/proc/%d/fd/%d", thread, int32(fd))
		c.path, _ = os.Readlink(c.fd)
	}
	named := func(at, name uint64) {
		c.path = text(thread, name)
		if filepath.IsAbs(c.path) {
			return
		}
		base := fmt.Sprintf("/proc/%d/cwd", thread)
		if at != atHere {
			base = fmt.Sprintf("/proc/%d/fd/%d", thread, int32(at))
		}
		base, _ = os.Readlink(base)
		c.path = filepath.Join(base, c.path)
	}
	switch c.nr {
	case syscall.SYS_OPEN, syscall.SYS_OPENAT:
		at, name, flags := uint64(atHere), regs.Rdi, regs.Rsi
		if c.nr == syscall.SYS_OPENAT {
			at, name, flags = regs.Rdi, regs.Rsi, regs.Rdx
		}
		if flags&(syscall.O_CREAT|syscall.O_TRUNC) == 0 {
			return c, false
		}
		named(at, name)
	case sysOpenat2:
		named(regs.Rdi, regs.Rsi)
	case syscall.SYS_WRITE, syscall.SYS_PWRITE64:
		c.size = regs.Rdx
		handle(regs.Rdi)
	case sysCopyFileRange:
		handle(regs.Rdx)
	case syscall.SYS_WRITEV, syscall.SYS_PWRITEV, syscall.SYS_SENDFILE, syscall.SYS_FTRUNCATE, syscall.SYS_FALLOCATE,
		syscall.SYS_FSYNC, syscall.SYS_FDATASYNC, syscall.SYS_FCHMOD:
		handle(regs.Rdi)
	case syscall.SYS_CREAT, syscall.SYS_TRUNCATE, syscall.SYS_UNLINK, syscall.SYS_RMDIR, syscall.SYS_MKDIR, syscall.SYS_CHMOD:
		named(atHere, regs.Rdi)
	case syscall.SYS_RENAME, syscall.SYS_LINK, syscall.SYS_SYMLINK:
		named(atHere, regs.Rsi)
	case syscall.SYS_RENAMEAT, sysRenameat2, syscall.SYS_LINKAT:
		named(regs.Rdx, regs.R10)
	case syscall.SYS_SYMLINKAT:
		named(regs.Rsi, regs.Rdx)
	case syscall.SYS_UNLINKAT, syscall.SYS_MKDIRAT, syscall.SYS_FCHMODAT:
		named(regs.Rdi, regs.Rsi)
	}
	c.path = strings.TrimSuffix(c.path, " (deleted)")
	return c, c.path == folder || strings.HasPrefix(c.path, folder+"/")
}

const atHere = uint64(0xffffff9c) // AT_FDCWD, of which a call looks at 32 bits

// text is a string in the memory of the program.
func text(thread int, at uint64) string {
	memory, err := os.Open(fmt.Sprintf("/proc/%d/mem", thread))
	if err != nil {
		return ""
	}
	defer memory.Close()
	var out []byte
	for len(out) < 1<<14 {
		page := make([]byte, 256-int(at+uint64(len(out)))%256)
		n, err := memory.ReadAt(page, int64(at)+int64(len(out)))
		if end := bytes.IndexByte(page[:n], 0); end >= 0 {
			return string(append(out, page[:end]...))
		}
		if out = append(out, page[:n]...); err != nil {
			break
		}
	}
	return string(out)
}

// becomeWatched turns this process, started by watch, into the program: from here on the system stops it before
// each of the calls, and lets all others pass at full speed.
func becomeWatched(program string) error {
	runtime.LockOSThread()
	type rule struct {
		code   uint16
		jt, jf uint8
		k      uint32
	}
	const (
		load, jumpIfEqual, give = 0x20, 0x15, 0x06 // BPF_LD+W+ABS, BPF_JMP+JEQ+K, BPF_RET+K
		allow, trace            = 0x7fff0000, 0x7ff00000
		noNewPrivileges, filter = 38, 1 // PR_SET_NO_NEW_PRIVS, SECCOMP_SET_MODE_FILTER
	)
	rules := []rule{{load, 0, 0, 0}} // the number of the call comes first in what a filter is given
	for nr := range calls {
		rules = append(rules, rule{jumpIfEqual, 0, 1, uint32(nr)}, rule{give, 0, 0, trace})
	}
	rules = append(rules, rule{give, 0, 0, allow})
	var packed bytes.Buffer
	if err := binary.Write(&packed, binary.NativeEndian, rules); err != nil {
		return err
	}
	code := packed.Bytes()
	list := struct {
		n     uint16
		rules unsafe.Pointer
	}{uint16(len(rules)), unsafe.Pointer(&code[0])}
	if _, _, e := syscall.RawSyscall6(syscall.SYS_PRCTL, noNewPrivileges, 1, 0, 0, 0, 0); e != 0 {
		return fmt.Errorf("watch the program: %w", e)
	}
	if _, _, e := syscall.RawSyscall(sysSeccomp, filter, 0, uintptr(unsafe.Pointer(&list))); e != 0 {
		return fmt.Errorf("watch the program: %w", e)
	}
	runtime.KeepAlive(code)
	var env []string
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, hookVariable+"=") {
			env = append(env, v)
		}
	}
	return syscall.Exec(program, append([]string{program}, os.Args[1:]...), env)
}
