//go:build linux || darwin

package badger

import "syscall"

// freeSpace is how many bytes we may still write to the disk of a folder.
func freeSpace(dir string) (uint64, error) {
	var st syscall.Statfs_t
	if err := syscall.Statfs(dir, &st); err != nil {
		return 0, err
	}
	return st.Bavail * uint64(st.Bsize), nil //nolint:gosec // a block's size is positive
}
