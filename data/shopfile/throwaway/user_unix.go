//go:build unix

package throwaway

import (
	"os"
	"os/exec"
	"os/user"
	"strconv"
	"syscall"
)

// unprivileged has a program run as a user without special rights, to whom the file or folder is given, since
// PostgreSQL refuses to run as the super-user.
func unprivileged(c *exec.Cmd, path string) error {
	if os.Getuid() != 0 {
		return nil
	}
	someone, err := user.Lookup("postgres") // Debian's package makes it
	if err != nil {
		someone, err = user.Lookup("nobody")
	}
	if err != nil {
		return err
	}
	uid, err := strconv.ParseUint(someone.Uid, 10, 32)
	if err != nil {
		return err
	}
	gid, err := strconv.ParseUint(someone.Gid, 10, 32)
	if err != nil {
		return err
	}
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
	return os.Chown(path, int(uid), int(gid))
}
