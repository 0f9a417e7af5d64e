package badger

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/dgraph-io/badger/v4"

	"bayword/internal/ledger"
)

// format is what this package writes under the key "f".
const format = 1

// latest is the version to read everything at.
const latest = math.MaxUint64

// Why a store does not open, beside *ledger.CorruptError and ledger.ErrDiskFull.
var (
	ErrLocked      = errors.New("ledger: the data folder is in use by another process; stop it, or choose another folder")
	ErrNewerFormat = errors.New("ledger: the data folder was written by a newer program; use that one")
)

// Options of a store. The zero value is right for a server.
type Options struct {
	MinFree   uint64                           // bytes free on the disk below which appends are refused; 0: 64 MB
	Ballast   uint64                           // bytes kept aside for a full disk; 0: 32 MB
	NoBallast bool                             // for stores that live for a moment
	Free      func(dir string) (uint64, error) // bytes free on the folder's disk; nil: asks the system
}

// Open opens or makes the ledger in a folder, and checks it: an error rather than
// a ledger with something missing.
func Open(dir string, opts Options) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("ledger: the data folder: %w", err)
	}
	g := newGuard(dir, opts)
	if err := g.check(0); err != nil {
		return nil, err // Badger could not even open
	}
	path := filepath.Join(dir, "db")
	if inUse(path) {
		return nil, fmt.Errorf("%w (%s)", ErrLocked, dir)
	}
	if err := preflight(dir, path); err != nil {
		return nil, err
	}
	db, err := openDB(path)
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, db: db, guard: g, changed: make(chan struct{})}
	if err := s.begin(); err != nil {
		// What is wrong has been found; closing may only fail by the same.
		if s.headFile != nil {
			_ = s.headFile.close()
		}
		_ = closeDB(s.db)
		return nil, err
	}
	return s, nil
}

// leaner opens the database once more, when it is large: the check has read all
// of its files through memory maps, and their pages count as the process's own
// until they are unmapped.
func (s *Store) leaner() error {
	const large = 32 << 20
	size := uint64(0)
	for _, t := range s.db.Tables() {
		size += uint64(t.OnDiskSize)
	}
	if size < large {
		return nil
	}
	path := s.db.Opts().Dir
	if err := closeDB(s.db); err != nil {
		return fmt.Errorf("ledger: after the check: %w", err)
	}
	db, err := openDB(path)
	if err != nil {
		return err
	}
	s.db = db
	head, err := last(db)
	if err == nil && head != s.head {
		err = fmt.Errorf("%w (%s)", ErrLocked, s.dir) // it came in between
	}
	return err
}

func newGuard(dir string, opts Options) *guard {
	g := &guard{dir: dir, free: opts.Free, min: opts.MinFree, ballast: opts.Ballast}
	if g.free == nil {
		g.free = freeSpace
	}
	if g.min == 0 {
		g.min = 64 << 20
	}
	if g.ballast == 0 {
		g.ballast = 32 << 20
	}
	if opts.NoBallast {
		g.ballast = 0
	}
	return g
}

// dbOptions is the small profile: a few megabytes of memory, every commit synced,
// values beside their keys (so no value log to collect), one writer (so no
// conflicts to detect).
func dbOptions(path string) badger.Options {
	o := badger.DefaultOptions(path)
	o.SyncWrites = true
	o.DetectConflicts = false
	o.ValueThreshold = ledger.MaxAppendBytes
	o.ValueLogFileSize = 1 << 20
	o.MemTableSize = 8 << 20
	o.NumMemtables = 2
	o.NumLevelZeroTables = 2
	o.NumLevelZeroTablesStall = 6
	o.BaseLevelSize = 8 << 20
	o.NumCompactors = 2
	o.NumGoroutines = 2
	o.CompactL0OnClose = true
	o.BlockCacheSize = 0
	o.IndexCacheSize = 0
	o.Compression = 0
	o.MetricsEnabled = false
	o.Logger = nil
	return o
}

func openDB(path string) (db *badger.DB, err error) {
	for range 2 {
		db, err = openOnce(path)
		// An empty memtable, left by a killed process, fails the first time only.
		if err == nil || !strings.Contains(err.Error(), "Create a new file") {
			break
		}
	}
	var corrupt *ledger.CorruptError
	switch {
	case err == nil:
		return db, nil
	case errors.As(err, &corrupt):
		return nil, err
	case errors.Is(err, syscall.EWOULDBLOCK), strings.Contains(err.Error(), "Another process is using"):
		return nil, fmt.Errorf("%w (%s)", ErrLocked, filepath.Dir(path))
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EMFILE), errors.Is(err, syscall.ENOTDIR):
		return nil, fmt.Errorf("ledger: the data folder: %w", err)
	default:
		return nil, &ledger.CorruptError{What: fmt.Sprintf("the database does not open (%v); restore the data folder from a backup", err)}
	}
}

func openOnce(path string) (db *badger.DB, err error) {
	defer caught(&err, nil)
	return badger.OpenManaged(dbOptions(path))
}

func closeDB(db *badger.DB) (err error) {
	defer caught(&err, nil)
	return db.Close()
}

// begin reads and checks what the folder holds.
func (s *Store) begin() error {
	version, err := readFormat(s.db)
	if err != nil {
		return err
	}
	if version > format {
		return fmt.Errorf("%w: its format is %d, this program knows %d", ErrNewerFormat, version, format)
	}
	if s.head, err = last(s.db); err != nil {
		return err
	}
	// The head file is made before the format is written, and both before the first
	// entry: only with neither is this a new ledger.
	fresh := version == 0 && s.head.Seq == 0
	var kept ledger.Head
	if s.headFile, kept, err = openHead(s.dir, fresh); err != nil {
		return err
	}
	if kept.Seq > s.head.Seq {
		return &ledger.CorruptError{Seq: s.head.Seq + 1, What: fmt.Sprintf("missing, the head file knows of entry %d; restore the data folder from a backup", kept.Seq)}
	}
	if version == 0 && !fresh {
		return &ledger.CorruptError{What: "the store's format is missing; restore the data folder from a backup"}
	}
	if fresh {
		if err := writeFormat(s.db); err != nil {
			return err
		}
	}
	if _, err := s.check(context.Background(), s.head, kept); err != nil {
		return err
	}
	if err := s.leaner(); err != nil {
		return err
	}
	if kept != s.head {
		if err := s.headFile.write(s.head); err != nil {
			return err
		}
	}
	return s.guard.load()
}

// readFormat gives 0 when there is none.
func readFormat(db *badger.DB) (version uint32, err error) {
	defer caught(&err, nil)
	txn := db.NewTransactionAt(latest, false)
	defer txn.Discard()
	item, err := txn.Get([]byte("f"))
	if errors.Is(err, badger.ErrKeyNotFound) {
		return 0, nil
	}
	if err != nil {
		return 0, fmt.Errorf("ledger: the store's format: %w", err)
	}
	err = item.Value(func(v []byte) error {
		if len(v) != 4 || binary.BigEndian.Uint32(v) == 0 {
			return &ledger.CorruptError{What: fmt.Sprintf("the store's format is %x; restore the data folder from a backup", v)}
		}
		version = binary.BigEndian.Uint32(v)
		return nil
	})
	return version, err
}

func writeFormat(db *badger.DB) error {
	txn := db.NewTransactionAt(0, true)
	defer txn.Discard()
	err := txn.Set([]byte("f"), binary.BigEndian.AppendUint32(nil, format))
	if err == nil {
		err = txn.CommitAt(1, nil)
	}
	if err != nil {
		return fmt.Errorf("ledger: the store's format: %w", err)
	}
	return nil
}
