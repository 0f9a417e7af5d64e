package ledger

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"strconv"
	"sync"
)

// maxGroup is how many requests share one commit at most.
const maxGroup = 256

// Writer is the one that decides and appends. All decisions are made one after
// the other on its goroutine, each on the state with all decisions before it, and
// all that wait share one commit.
type Writer struct {
	store Store
	apply func([]Entry)
	head  Head // of what is decided; only the writer's goroutine looks at it
	queue chan *op
	stop  chan struct{} // closed by Close
	done  chan struct{} // closed when the goroutine has ended
	once  sync.Once
}

type op struct {
	ctx         context.Context
	requestID   string
	fingerprint Hash
	decide      func(firstSeq uint64) (Batch, error)

	response []byte
	repeated bool
	err      error
	done     chan struct{} // closed when the three above are set
}

// PanicError is a panic of a function given to the Writer.
type PanicError struct {
	Doing string // "deciding request …" or "applying entry …"
	Value any    // what it panicked with
	Stack []byte // for the log
}

func (e *PanicError) Error() string {
	return fmt.Sprintf("ledger: panic while %s: %v", e.Doing, e.Value)
}

// NewWriter starts a writer on the store. The caller has folded the store's
// entries up to its head.
//
// apply folds the entries of a decision into the state, on the writer's goroutine
// and before they are durable, so that the next decision sees them. Whoever reads
// the state therefore may see what will be durable only after the commit under
// way (a millisecond or so), and guards the state with its own lock. The entries
// must not be changed. When the commit fails, the state is ahead of the store: the
// writer then refuses everything, and the process must start again.
func NewWriter(ctx context.Context, store Store, apply func([]Entry)) (*Writer, error) {
	head, err := store.Head(ctx)
	if err != nil {
		return nil, err
	}
	w := &Writer{
		store: store, apply: apply, head: head,
		queue: make(chan *op, maxGroup), stop: make(chan struct{}), done: make(chan struct{}),
	}
	go w.run()
	return w, nil
}

// Do runs decide on the writer's goroutine and returns when what it decided is
// durable. decide is given the sequence number its first entry will have, and
// returns the batch's entries and response (the rest is filled in here), or an
// error, which Do returns as it is, and nothing is appended. A panic in decide is
// a *PanicError, and no one else's trouble.
//
// A request id seen before with the same fingerprint gives the first response
// again, and repeated is true; decide is not run. With another fingerprint it is
// ErrRequestReused. When ctx ends first, the request may or may not be appended:
// repeat it with the same id to learn which.
//
// Other errors: *BatchError, ErrTooLarge and ErrDiskFull when nothing was
// appended, ErrStoreFailed when that is unknown, ErrClosed.
func (w *Writer) Do(ctx context.Context, requestID string, fingerprint Hash, decide func(firstSeq uint64) (Batch, error)) (response []byte, repeated bool, err error) {
	if err := ctx.Err(); err != nil {
		return nil, false, err
	}
	o := &op{ctx: ctx, requestID: requestID, fingerprint: fingerprint, decide: decide, done: make(chan struct{})}
	select {
	case <-w.stop:
		return nil, false, ErrClosed
	default:
	}
	select {
	case w.queue <- o:
	case <-w.stop:
		return nil, false, ErrClosed
	case <-ctx.Done():
		return nil, false, ctx.Err()
	}
	select {
	case <-o.done:
		return o.response, o.repeated, o.err
	case <-ctx.Done():
		return nil, false, ctx.Err()
	case <-w.done:
	}
	// The goroutine has ended: it answered this one, or never saw it.
	select {
	case <-o.done:
		return o.response, o.repeated, o.err
	default:
		return nil, false, ErrClosed
	}
}

// Close lets what waits be decided and made durable, then ends the writer. The
// store stays open.
func (w *Writer) Close() {
	w.once.Do(func() { close(w.stop) })
	<-w.done
}

func (w *Writer) run() {
	defer close(w.done)
	var failed error
	for {
		var first *op
		select {
		case first = <-w.queue:
		case <-w.stop:
			if first = w.waiting(); first == nil {
				return
			}
		}
		if failed != nil {
			first.answer(failed)
			continue
		}
		failed = w.group(first)
	}
}

// waiting takes the next request if there is one. Those just answered are about
// to come back: giving them the processor once makes fewer, fuller commits.
func (w *Writer) waiting() *op {
	select {
	case o := <-w.queue:
		return o
	default:
		runtime.Gosched()
	}
	select {
	case o := <-w.queue:
		return o
	default:
		return nil
	}
}

// group is what shares one commit.
type group struct {
	ops     []*op
	batches []Batch
	index   map[string]int // request id → its place in batches
	size    int            // bytes in batches
}

func (g *group) full() bool {
	return len(g.ops) == maxGroup || g.size > MaxAppendBytes-MaxBatchBytes
}

// group decides first and all that wait, commits, and answers them all: a refusal
// too waits for the commit, for it may rest on what was decided just before it.
// An error means that the state and the store have parted.
func (w *Writer) group(first *op) error {
	ctx := context.Background() // the commit belongs to all: no one's context may end it
	expected := w.head.Seq
	g := group{index: make(map[string]int)}
	failed := error(nil)
	ready := w.store.Ready(ctx)
	for o := first; o != nil; o = w.waiting() {
		g.ops = append(g.ops, o)
		if o.err = ready; o.err == nil {
			failed = w.decide(o, &g)
		}
		if failed != nil || g.full() {
			break
		}
	}
	if failed == nil && len(g.batches) > 0 {
		failed = w.store.Append(ctx, expected, g.batches)
	}
	if failed != nil {
		failed = fmt.Errorf("%w: %w", ErrStoreFailed, failed)
	}
	for _, o := range g.ops {
		o.answer(failed)
	}
	return failed
}

// decide sets o's answer and adds what it appends to the group. Only an apply
// that broke off is an error: every other trouble is o's own.
func (w *Writer) decide(o *op, g *group) error {
	if o.err = o.ctx.Err(); o.err != nil {
		return nil
	}
	if i, ok := g.index[o.requestID]; ok {
		o.repeat(g.batches[i].Fingerprint, g.batches[i].Response)
		return nil
	}
	r, ok, err := w.store.Request(context.Background(), o.requestID)
	if err != nil {
		o.err = err
		return nil
	}
	if ok {
		o.repeat(r.Fingerprint, r.Response)
		return nil
	}
	b, err := o.decided(w.head.Seq + 1)
	if err == nil {
		err = b.check()
	}
	if err != nil {
		o.err = err
		return nil
	}
	head := Seal(w.head, &b)
	if err := w.fold(b.Entries); err != nil {
		return err
	}
	w.head = head
	o.response = b.Response
	g.index[b.RequestID] = len(g.batches)
	g.batches = append(g.batches, b)
	g.size += b.Size()
	return nil
}

// fold applies the entries; a panic leaves the state half changed.
func (w *Writer) fold(entries []Entry) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = &PanicError{fmt.Sprintf("applying entry %d", entries[0].Seq), p, debug.Stack()}
		}
	}()
	w.apply(entries)
	return nil
}

// decided runs decide and fills in whose batch it is.
func (o *op) decided(firstSeq uint64) (b Batch, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = &PanicError{"deciding request " + strconv.Quote(o.requestID), p, debug.Stack()}
		}
	}()
	b, err = o.decide(firstSeq)
	b.RequestID, b.Fingerprint = o.requestID, o.fingerprint
	return b, err
}

// repeat answers with what was appended before.
func (o *op) repeat(fingerprint Hash, response []byte) {
	if fingerprint != o.fingerprint {
		o.err = fmt.Errorf("%w: %q", ErrRequestReused, o.requestID)
		return
	}
	o.response, o.repeated = response, true
}

func (o *op) answer(failed error) {
	if failed != nil {
		o.response, o.repeated, o.err = nil, false, failed
	}
	close(o.done)
}
