package badger

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"bayword/internal/ledger"
)

// A snapshot is a file of its own, as it may be larger than a transaction:
//
//	magic (8 bytes, its last one the format), seq (8, big-endian), hash (32), data, SHA-256 (32) over all before
const (
	snapshotMagic = "BAYSNAP1"
	snapshotFixed = 8 + 8 + 32
)

func (s *Store) snapshotPath() string { return filepath.Join(s.dir, "snapshot") }

// SaveSnapshot writes a new file, syncs it, and puts it in the old one's place.
func (s *Store) SaveSnapshot(ctx context.Context, snap ledger.Snapshot) error {
	s.append.Lock()
	defer s.append.Unlock()
	head, err := s.enter(ctx)
	if err != nil {
		return err
	}
	defer s.leave()
	if err := s.inChain(head, snap.Head); err != nil {
		return err
	}
	if err := s.guard.check(uint64(len(snap.Data))); err != nil {
		return err
	}
	buf := make([]byte, 0, snapshotFixed+len(snap.Data)+sha256.Size)
	buf = append(buf, snapshotMagic...)
	buf = binary.BigEndian.AppendUint64(buf, snap.Seq)
	buf = append(buf, snap.Hash[:]...)
	buf = append(buf, snap.Data...)
	sum := sha256.Sum256(buf)
	if err := replaceFile(s.snapshotPath(), append(buf, sum[:]...)); err != nil {
		return fmt.Errorf("ledger: snapshot: %w", err)
	}
	return nil
}

// Snapshot reads the file and checks it, and its place in the chain.
func (s *Store) Snapshot(ctx context.Context) (ledger.Snapshot, bool, error) {
	head, err := s.enter(ctx)
	if err != nil {
		return ledger.Snapshot{}, false, err
	}
	defer s.leave()
	buf, err := os.ReadFile(s.snapshotPath())
	if errors.Is(err, fs.ErrNotExist) {
		return ledger.Snapshot{}, false, nil
	}
	if err != nil {
		return ledger.Snapshot{}, false, fmt.Errorf("ledger: snapshot: %w", err)
	}
	snap, err := parseSnapshot(buf)
	if err == nil {
		err = s.inChain(head, snap.Head)
	}
	if errors.Is(err, ledger.ErrNotInChain) {
		err = &ledger.CorruptError{What: err.Error()}
	}
	if err != nil {
		return ledger.Snapshot{}, false, err
	}
	return snap, true, nil
}

func parseSnapshot(buf []byte) (ledger.Snapshot, error) {
	body := len(buf) - sha256.Size
	if body < snapshotFixed {
		return ledger.Snapshot{}, &ledger.CorruptError{What: "the snapshot is cut; delete it, it can be made again"}
	}
	if sum := sha256.Sum256(buf[:body]); !bytes.Equal(sum[:], buf[body:]) {
		return ledger.Snapshot{}, &ledger.CorruptError{What: "the snapshot's checksum does not match; delete it, it can be made again"}
	}
	if magic := string(buf[:8]); magic != snapshotMagic {
		return ledger.Snapshot{}, fmt.Errorf("%w: the snapshot is %q, this program knows %q", ErrNewerFormat, magic, snapshotMagic)
	}
	return ledger.Snapshot{
		Head: ledger.Head{Seq: binary.BigEndian.Uint64(buf[8:]), Hash: ledger.Hash(buf[16:48])},
		Data: buf[snapshotFixed:body:body],
	}, nil
}

// inChain is ErrNotInChain when there is no such place in the chain.
func (s *Store) inChain(head, at ledger.Head) (err error) {
	defer caught(&err, nil)
	if at.Seq <= head.Seq {
		txn := s.db.NewTransactionAt(head.Seq, false)
		defer txn.Discard()
		found, err := place(txn, at.Seq)
		if err != nil {
			return err
		}
		if found == at {
			return nil
		}
	}
	return fmt.Errorf("%w: %d, the head is at %d", ledger.ErrNotInChain, at.Seq, head.Seq)
}

// replaceFile leaves either the old content or the new one, whatever happens.
func replaceFile(path string, content []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".*.new")
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return syncDir(filepath.Dir(path))
}
