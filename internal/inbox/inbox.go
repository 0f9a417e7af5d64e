// Package inbox keeps what a chat surface received and what it still has to
// post, so that a crash between the two loses nothing and repeats nothing.
//
// A message is durable when Put returns; only then may the surface acknowledge
// it. Done stores the reply and takes the message off the pending list in one
// commit; Sent closes it. Beside them a small key-value part keeps cursors and
// the conversation's context. It may import surface, say and Badger, nothing
// else of this module.
package inbox

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"sync"
	"time"

	"github.com/dgraph-io/badger/v4"

	"bayword/internal/say"
	"bayword/internal/surface"
)

// How long things are remembered.
const (
	Remember     = 24 * time.Hour      // a finished message, counted from its At
	RememberMore = 90 * 24 * time.Hour // a value that belongs to one, counted from its "at"
)

// maxValue is the longest stored value, in bytes: far above any message of a
// chat platform, and low enough that a batch fits one Badger transaction.
const maxValue = 512 << 10

// Errors a caller may decide by.
var (
	ErrClosed   = errors.New("the inbox is closed")
	ErrDiskFull = errors.New("the disk is nearly full: free some space; nothing was stored")
	ErrTooLarge = fmt.Errorf("too large for the inbox: at most %d bytes", maxValue)
	ErrUnknown  = errors.New("no such message in the inbox")
)

// LockedError says that another process has the folder open.
type LockedError struct{ Dir string }

func (e *LockedError) Error() string {
	return fmt.Sprintf("the inbox %s is in use by another process: stop it, or choose another folder", e.Dir)
}

// Entry is one message and what became of it.
type Entry struct {
	Message surface.Message
	Done    bool       // it was handled
	Reply   *say.Reply // nil: nothing to say
	Posted  string     // the surface's own id of the post that shows the reply; "" when none
	Unsent  bool       // the reply is still in the outbox
}

// record is what is stored of a message.
type record struct {
	Message surface.Message `json:"message"`
	Done    bool            `json:"done,omitempty"`
	Reply   *say.Reply      `json:"reply,omitempty"`
	Posted  string          `json:"posted,omitempty"`
	In      uint64          `json:"in,omitempty"`  // place in the pending list, 0 when not in it
	Out     uint64          `json:"out,omitempty"` // place in the outbox, 0 when not in it
}

func (r record) entry() Entry {
	return Entry{Message: r.Message, Done: r.Done, Reply: r.Reply, Posted: r.Posted, Unsent: r.Out != 0}
}

// Inbox is safe for use by several goroutines.
type Inbox struct {
	db   *badger.DB
	dir  string // "" in memory
	ops  chan *op
	quit chan struct{} // closed by Close
	done chan struct{} // closed when the writer has ended
	once sync.Once
	read sync.RWMutex // held by readers; Close waits for them
	next uint64       // the writer's alone: next place in either list
}

// Open opens the inbox in dir, creating the folder if needed. A folder in use
// gives a *LockedError.
func Open(dir string) (*Inbox, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("inbox folder %s: %w", dir, err)
	}
	db, err := badger.Open(small(badger.DefaultOptions(dir)))
	if err != nil && strings.Contains(err.Error(), "opening memtables") {
		// After a kill an empty memtable can fail the first open; the second succeeds.
		db, err = badger.Open(small(badger.DefaultOptions(dir)))
	}
	switch {
	case err != nil && strings.Contains(err.Error(), "Cannot acquire directory lock"):
		return nil, &LockedError{Dir: dir}
	case err != nil:
		return nil, fmt.Errorf("open the inbox %s: %w", dir, err)
	}
	return start(db, dir)
}

// OpenMemory opens an inbox that is gone when it is closed.
func OpenMemory() (*Inbox, error) {
	db, err := badger.Open(small(badger.DefaultOptions("").WithInMemory(true)))
	if err != nil {
		return nil, fmt.Errorf("open an inbox in memory: %w", err)
	}
	return start(db, "")
}

// small sets Badger up for a few thousand small values and one writer.
func small(o badger.Options) badger.Options {
	o.Logger = nil
	o.SyncWrites = true
	o.DetectConflicts = false // one writer
	o.MetricsEnabled = false
	o.MemTableSize = 8 << 20
	o.NumMemtables = 2
	o.NumLevelZeroTables = 2
	o.NumLevelZeroTablesStall = 6
	o.BaseLevelSize = 8 << 20
	o.NumCompactors = 2
	o.NumGoroutines = 2
	o.Compression = 0
	o.BlockCacheSize = 0
	o.ValueLogFileSize = 16 << 20 // unused: values stay inline
	o.CompactL0OnClose = !o.InMemory
	return o
}

func start(db *badger.DB, dir string) (*Inbox, error) {
	b := &Inbox{db: db, dir: dir, ops: make(chan *op), quit: make(chan struct{}), done: make(chan struct{})}
	err := db.View(func(txn *badger.Txn) error {
		b.next = max(last(txn, pendingPrefix), last(txn, outboxPrefix)) + 1
		return nil
	})
	if err != nil {
		_ = db.Close()
		return nil, fmt.Errorf("read the inbox %s: %w", dir, err)
	}
	go b.write()
	return b, nil
}

// Close lets the running commit finish and closes the store.
func (b *Inbox) Close() error {
	var err error
	b.once.Do(func() {
		close(b.quit)
		<-b.done
		b.read.Lock()
		defer b.read.Unlock()
		err = b.db.Close()
	})
	return err
}

// Put stores a message and returns when it is durable. It is fresh unless its
// ID, or one of the other names it is known by, was put in the last 24 hours;
// a message that is not fresh changes nothing. An error means that the outcome
// is not known: put it again.
func (b *Inbox) Put(ctx context.Context, m surface.Message, also ...string) (fresh bool, err error) {
	return b.store(ctx, m, also, func(txn *badger.Txn, r *record) error {
		r.In = b.place()
		return txn.Set(place(pendingPrefix, r.In), []byte(m.ID))
	})
}

// Tell puts a reply into the outbox that answers nobody: m says where and when.
// It is the same as Put and Done together, and never pending. A message that is
// not fresh, as with Put, changes nothing.
func (b *Inbox) Tell(ctx context.Context, m surface.Message, reply say.Reply) (fresh bool, err error) {
	return b.store(ctx, m, nil, func(txn *badger.Txn, r *record) error {
		r.Done, r.Reply, r.Out = true, &reply, b.place()
		return txn.Set(place(outboxPrefix, r.Out), []byte(m.ID))
	})
}

// store stores a fresh message; list puts it into one of the two lists.
func (b *Inbox) store(ctx context.Context, m surface.Message, also []string, list func(*badger.Txn, *record) error) (fresh bool, err error) {
	if m.ID == "" || m.At.IsZero() {
		return false, fmt.Errorf("a message needs an ID and a time, got ID %q at %v", m.ID, m.At)
	}
	names := append([]string{m.ID}, also...)
	err = b.do(ctx, func(txn *badger.Txn) error {
		fresh = true
		for _, n := range names {
			if _, err := txn.Get(key(seenPrefix, n)); err == nil {
				fresh = false
			} else if !errors.Is(err, badger.ErrKeyNotFound) {
				return err
			}
		}
		if !fresh {
			return nil
		}
		r := record{Message: m}
		for _, n := range names {
			if err := setJSON(txn, key(seenPrefix, n), seen{ID: m.ID, At: m.At}); err != nil {
				return err
			}
		}
		if err := list(txn, &r); err != nil {
			return err
		}
		return setJSON(txn, key(messagePrefix, m.ID), r)
	})
	if err != nil {
		return false, fmt.Errorf("store message %s: %w", m.ID, err)
	}
	return fresh, nil
}

// Done marks a message handled. With a reply, the reply stands in the outbox
// from the same commit on. A message already done keeps its first reply.
func (b *Inbox) Done(ctx context.Context, id string, reply *say.Reply) error {
	err := b.do(ctx, func(txn *badger.Txn) error {
		r, err := get(txn, id)
		if err != nil || r.Done {
			return err
		}
		if err := txn.Delete(place(pendingPrefix, r.In)); err != nil {
			return err
		}
		r.Done, r.In, r.Reply = true, 0, reply
		if reply != nil {
			r.Out = b.place()
			if err := txn.Set(place(outboxPrefix, r.Out), []byte(id)); err != nil {
				return err
			}
		}
		return setJSON(txn, key(messagePrefix, id), r)
	})
	if err != nil {
		return fmt.Errorf("mark message %s done: %w", id, err)
	}
	return nil
}

// Sent takes a reply out of the outbox. posted is the surface's id of the post
// that shows it, "" if it could not be posted. What answered an edit is noted
// for the edited message too, so that the next edit finds the same post.
func (b *Inbox) Sent(ctx context.Context, id, posted string) error {
	err := b.do(ctx, func(txn *badger.Txn) error {
		r, err := get(txn, id)
		if err != nil || r.Out == 0 {
			return err
		}
		if err := txn.Delete(place(outboxPrefix, r.Out)); err != nil {
			return err
		}
		r.Out, r.Posted = 0, posted
		if err := setJSON(txn, key(messagePrefix, id), r); err != nil {
			return err
		}
		if r.Message.Act != surface.Edited || posted == "" {
			return nil
		}
		first, err := get(txn, r.Message.Target)
		if errors.Is(err, ErrUnknown) {
			return nil
		}
		if err != nil {
			return err
		}
		first.Posted = posted
		return setJSON(txn, key(messagePrefix, first.Message.ID), first)
	})
	if err != nil {
		return fmt.Errorf("mark the reply to %s sent: %w", id, err)
	}
	return nil
}

// Pending lists the messages not yet done, in the order they arrived.
func (b *Inbox) Pending(ctx context.Context) ([]surface.Message, error) {
	list, err := b.list(ctx, pendingPrefix)
	out := make([]surface.Message, len(list))
	for i, e := range list {
		out[i] = e.Message
	}
	return out, err
}

// Unsent lists the replies not yet sent, in the order they were given.
func (b *Inbox) Unsent(ctx context.Context) ([]Entry, error) {
	return b.list(ctx, outboxPrefix)
}

// Reply gives a message and what became of it; ok is false when the inbox does
// not know it, or no longer.
func (b *Inbox) Reply(ctx context.Context, id string) (e Entry, ok bool, err error) {
	if err := ctx.Err(); err != nil {
		return Entry{}, false, err
	}
	err = b.view(func(txn *badger.Txn) error {
		r, err := get(txn, id)
		if errors.Is(err, ErrUnknown) {
			return nil
		}
		e, ok = r.entry(), err == nil
		return err
	})
	return e, ok, err
}

// Save stores a value under a key of the caller's choice; nil removes it. What
// belongs to a single message or notice goes under "message/" or "notice/", as
// JSON with the time "at": after 90 days it is forgotten.
func (b *Inbox) Save(ctx context.Context, name string, value []byte) error {
	err := b.do(ctx, func(txn *badger.Txn) error {
		if value == nil {
			return txn.Delete(key(valuePrefix, name))
		}
		return set(txn, key(valuePrefix, name), value)
	})
	if err != nil {
		return fmt.Errorf("save %q: %w", name, err)
	}
	return nil
}

// Load gives what was saved under a key; ok is false when nothing was.
func (b *Inbox) Load(ctx context.Context, name string) (value []byte, ok bool, err error) {
	if err := ctx.Err(); err != nil {
		return nil, false, err
	}
	err = b.view(func(txn *badger.Txn) error {
		item, err := txn.Get(key(valuePrefix, name))
		if errors.Is(err, badger.ErrKeyNotFound) {
			return nil
		}
		if err != nil {
			return err
		}
		ok = true
		value, err = item.ValueCopy(nil)
		return err
	})
	return value, ok, err
}

// The key spaces.
const (
	messagePrefix = "m/" // id → record
	pendingPrefix = "p/" // place → id
	outboxPrefix  = "o/" // place → id
	seenPrefix    = "s/" // id or other name → seen
	valuePrefix   = "k/" // key → value
)

// seen says which message a name belongs to, and when that was said.
type seen struct {
	ID string    `json:"id"`
	At time.Time `json:"at"`
}

func key(prefix, name string) []byte { return []byte(prefix + name) }

func place(prefix string, n uint64) []byte {
	return binary.BigEndian.AppendUint64([]byte(prefix), n)
}

// place gives the next place in a list; the writer alone calls it.
func (b *Inbox) place() uint64 {
	b.next++
	return b.next - 1
}

func set(txn *badger.Txn, k, v []byte) error {
	if len(v) > maxValue {
		return fmt.Errorf("%w, got %d", ErrTooLarge, len(v))
	}
	return txn.Set(k, v)
}

func setJSON(txn *badger.Txn, k []byte, v any) error {
	data, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return set(txn, k, data)
}

func get(txn *badger.Txn, id string) (record, error) {
	var r record
	item, err := txn.Get(key(messagePrefix, id))
	if errors.Is(err, badger.ErrKeyNotFound) {
		return r, fmt.Errorf("%w: %s", ErrUnknown, id)
	}
	if err != nil {
		return r, err
	}
	return r, item.Value(func(v []byte) error { return json.Unmarshal(v, &r) })
}

// each calls f with a copy of every key and value under a prefix, in order.
func each(txn *badger.Txn, prefix string, f func(k, v []byte) error) error {
	it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte(prefix), PrefetchValues: true, PrefetchSize: 100})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		k := it.Item().KeyCopy(nil)
		if err := it.Item().Value(func(v []byte) error { return f(k, v) }); err != nil {
			return fmt.Errorf("key %q: %w", k, err)
		}
	}
	return nil
}

// last gives the highest place in a list, 0 when it is empty.
func last(txn *badger.Txn, prefix string) uint64 {
	it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte(prefix), Reverse: true})
	defer it.Close()
	it.Seek(place(prefix, math.MaxUint64))
	if !it.Valid() {
		return 0
	}
	return binary.BigEndian.Uint64(it.Item().Key()[len(prefix):])
}

func (b *Inbox) list(ctx context.Context, prefix string) ([]Entry, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var out []Entry
	err := b.view(func(txn *badger.Txn) error {
		return each(txn, prefix, func(_, id []byte) error {
			r, err := get(txn, string(id))
			if err != nil {
				return err
			}
			out = append(out, r.entry())
			return nil
		})
	})
	return out, err
}

// view reads, unless the store is closed.
func (b *Inbox) view(f func(*badger.Txn) error) error {
	b.read.RLock()
	defer b.read.RUnlock()
	select {
	case <-b.quit:
		return ErrClosed
	default:
		return b.db.View(f)
	}
}
