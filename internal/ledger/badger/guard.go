package badger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"bayword/internal/ledger"
)

// guard watches the room on the disk. Badger writes through memory maps, and a
// full disk then kills the process; so appends stop while there still is room for
// what Badger has to write on its own. The ballast file makes more of it when it
// is needed, and comes back when there is plenty again.
type guard struct {
	dir     string
	free    func(dir string) (bytes uint64, err error)
	min     uint64 // bytes free below which nothing is appended
	ballast uint64 // bytes, 0 for none

	mu   sync.Mutex
	room uint64 // free bytes as last looked at, or why they are not known
	err  error
	at   time.Time
	full bool // since the room fell below min, until it has grown well above
}

const (
	guardEvery = 100 * time.Millisecond
	// readyMargin is how much earlier Ready says no than Append does: what passed
	// the one shall not be refused by the other a moment later.
	readyMargin = 8 << 20
)

// check is nil when there are min and margin bytes free.
func (g *guard) check(margin uint64) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	if now := time.Now(); now.Sub(g.at) >= guardEvery {
		g.at = now
		g.look()
	}
	if g.err != nil {
		return g.err
	}
	if g.full || g.room < g.min+margin {
		return fmt.Errorf("%w (%d MB free in %s, %d needed)", ledger.ErrDiskFull, g.room>>20, g.dir, g.needed()>>20)
	}
	return nil
}

// needed is how much must be free for appends to go on. Once full, it is more, so
// that they do not go on and off.
func (g *guard) needed() uint64 {
	if g.full {
		return g.min + 2*g.ballast + readyMargin
	}
	return g.min + readyMargin
}

func (g *guard) look() {
	g.room, g.err = g.free(g.dir)
	if g.err != nil {
		g.err = fmt.Errorf("ledger: cannot tell how much room is left in %s: %w", g.dir, g.err)
		return
	}
	switch {
	case !g.full && g.room < g.min:
		g.full = true
		g.err = g.drop()
	case g.full && g.room >= g.needed():
		g.full = false
		g.err = g.load()
	}
}

func (g *guard) path() string { return filepath.Join(g.dir, "ballast") }

func (g *guard) drop() error {
	if err := os.Remove(g.path()); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("ledger: %w", err)
	}
	return nil
}

// load writes the ballast if it is not there, and there is room beside it.
func (g *guard) load() error {
	info, err := os.Stat(g.path())
	if err == nil && uint64(info.Size()) == g.ballast || g.ballast == 0 || g.room < g.needed()+g.ballast {
		return nil
	}
	f, err := os.Create(g.path())
	if err != nil {
		return fmt.Errorf("ledger: %w", err)
	}
	zeros := make([]byte, 1<<20)
	for left := g.ballast; left > 0 && err == nil; {
		n := min(left, uint64(len(zeros)))
		_, err = f.Write(zeros[:n])
		left -= n
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("ledger: ballast: %w", errors.Join(err, g.drop()))
	}
	return nil
}
