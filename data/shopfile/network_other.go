//go:build !linux

package shopfile

import "path/filepath"

// onNetwork tells whether a file lies on another computer. Only a Windows path shows it: \\computer\folder.
func onNetwork(path string) bool {
	volume := filepath.VolumeName(path)
	return len(volume) > 2 && (volume[:2] == `\\` || volume[:2] == "//")
}
