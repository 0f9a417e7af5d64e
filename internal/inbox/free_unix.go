//go:build linux || darwin

package inbox

import "syscall"

// freeBytes gives the space left for this user on the disk of dir.
func freeBytes(dir string) (uint64, bool) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(dir, &s); err != nil {
		return 0, false
	}
	return s.Bavail * uint64(s.Bsize), true
}
