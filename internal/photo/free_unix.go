//go:build linux || darwin

package photo

import "syscall"

// freeBytes is how many bytes may still be written to the disk of a folder.
func freeBytes(dir string) (uint64, bool) {
	var st syscall.Statfs_t
	if err := syscall.Statfs(dir, &st); err != nil {
		return 0, false
	}
	return st.Bavail * uint64(st.Bsize), true //nolint:gosec // a block's size is positive
}
