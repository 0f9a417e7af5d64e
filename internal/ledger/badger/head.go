package badger

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"bayword/internal/ledger"
)

// headFile keeps the chain's head outside the database, to notice when the
// database comes back without its last entries. Two slots a disk sector apart are
// written in turn, so that a torn write leaves the one before. A slot is
//
//	magic (8 bytes, its last one the file's format), seq (8, big-endian), hash (32), CRC-32C (4) over all before
type headFile struct {
	f      *os.File
	turn   int64 // the slot to write next
	synced time.Time
}

const (
	headMagic   = "BAYHEAD1"
	headSlot    = 512 // a sector: the most a disk is trusted to write whole
	headBytes   = 8 + 8 + 32 + 4
	headSyncing = time.Second // at most this much of it is lost in a power cut
)

// openHead opens the head file and reads its newer slot. A file that is not
// there is made if create is set.
func openHead(dir string, create bool) (*headFile, ledger.Head, error) {
	path := filepath.Join(dir, "head")
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if errors.Is(err, fs.ErrNotExist) && create {
		return createHead(dir, path)
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ledger.Head{}, &ledger.CorruptError{What: path + " is missing; restore the data folder from a backup"}
	}
	if err != nil {
		return nil, ledger.Head{}, fmt.Errorf("ledger: %w", err)
	}
	h := &headFile{f: f}
	head, err := h.read()
	if err != nil {
		f.Close() //nolint:errcheck // only read
		return nil, head, err
	}
	return h, head, nil
}

func createHead(dir, path string) (*headFile, ledger.Head, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, ledger.Head{}, fmt.Errorf("ledger: %w", err)
	}
	h := &headFile{f: f}
	err = h.write(ledger.Head{}) // synced: it is the first
	if err == nil {
		err = syncDir(dir)
	}
	if err != nil {
		return nil, ledger.Head{}, errors.Join(err, f.Close(), os.Remove(path))
	}
	return h, ledger.Head{}, nil
}

func (h *headFile) read() (ledger.Head, error) {
	var (
		best  ledger.Head
		found bool
		buf   [headBytes]byte
	)
	for slot := range int64(2) {
		if _, err := h.f.ReadAt(buf[:], slot*headSlot); err != nil {
			if errors.Is(err, io.EOF) {
				continue // not written yet, or cut: the other slot decides
			}
			return best, fmt.Errorf("ledger: %w", err)
		}
		if binary.BigEndian.Uint32(buf[48:]) != crc32.Checksum(buf[:48], castagnoli) {
			continue
		}
		if magic := string(buf[:8]); magic != headMagic {
			return best, fmt.Errorf("%w: the head file is %q, this program knows %q", ErrNewerFormat, magic, headMagic)
		}
		head := ledger.Head{Seq: binary.BigEndian.Uint64(buf[8:]), Hash: ledger.Hash(buf[16:48])}
		if !found || head.Seq >= best.Seq {
			best, found, h.turn = head, true, 1-slot
		}
	}
	if !found {
		return best, &ledger.CorruptError{What: h.f.Name() + " cannot be read; restore the data folder from a backup"}
	}
	return best, nil
}

func (h *headFile) write(head ledger.Head) error {
	buf := make([]byte, 0, headBytes)
	buf = append(buf, headMagic...)
	buf = binary.BigEndian.AppendUint64(buf, head.Seq)
	buf = append(buf, head.Hash[:]...)
	buf = binary.BigEndian.AppendUint32(buf, crc32.Checksum(buf, castagnoli))
	if _, err := h.f.WriteAt(buf, h.turn*headSlot); err != nil {
		return fmt.Errorf("ledger: %w", err)
	}
	h.turn = 1 - h.turn
	if now := time.Now(); now.Sub(h.synced) >= headSyncing {
		h.synced = now
		return h.sync()
	}
	return nil
}

func (h *headFile) sync() error {
	if err := h.f.Sync(); err != nil {
		return fmt.Errorf("ledger: %w", err)
	}
	return nil
}

func (h *headFile) close() error { return errors.Join(h.sync(), h.f.Close()) }

// syncDir makes the names in a folder durable. Where a folder cannot be synced
// (Windows) that is left to the file system.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("ledger: %w", err)
	}
	_ = d.Sync()
	return d.Close()
}
