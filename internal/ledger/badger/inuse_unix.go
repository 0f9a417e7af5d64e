//go:build linux || darwin

package badger

import (
	"os"
	"syscall"
)

// inUse says whether another process holds Badger's lock on the folder.
func inUse(path string) bool {
	d, err := os.Open(path)
	if err != nil {
		return false
	}
	defer d.Close() //nolint:errcheck // gives the lock back
	return syscall.Flock(int(d.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == syscall.EWOULDBLOCK
}
