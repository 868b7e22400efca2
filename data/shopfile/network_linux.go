package shopfile

import (
	"path/filepath"
	"syscall"
)

// The kinds of file systems that lie on another computer, by the numbers statfs(2) gives them. FUSE is
// among them because most that comes by it does (sshfs, rclone), and nobody can tell from outside.
var networks = map[uint32]string{
	0x6969:     "NFS",
	0x517B:     "SMB",
	0xFF534D42: "CIFS",
	0xFE534D42: "SMB2",
	0x65735546: "FUSE",
	0x01021997: "9P",
	0x5346414F: "AFS",
	0x73757245: "Coda",
	0x00C36400: "Ceph",
	0x564C:     "NCP",
}

// onNetwork tells whether a file lies on another computer, as far as the system says.
func onNetwork(path string) bool {
	var about syscall.Statfs_t
	if syscall.Statfs(filepath.Dir(path), &about) != nil {
		return false
	}
	return networks[uint32(about.Type)] != ""
}
