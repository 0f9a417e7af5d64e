package storetest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bayword/internal/ledger"
)

// model is what a ledger is, in the plainest terms.
type model struct {
	entries  []ledger.Entry
	receipts map[string]ledger.Receipt
	snapshot *ledger.Snapshot
}

func (m *model) at(seq uint64) ledger.Head {
	if seq == 0 {
		return ledger.Head{}
	}
	return ledger.Head{Seq: seq, Hash: m.entries[seq-1].Hash}
}

func (m *model) head() ledger.Head { return m.at(uint64(len(m.entries))) }

func testModel(t *testing.T, open Opener) {
	rapid.Check(t, func(rt *rapid.T) {
		s, reopen := open(t)
		defer func() { require.NoError(rt, s.Close()) }()
		ctx := context.Background()
		m := model{receipts: make(map[string]ledger.Receipt)}
		id := rapid.StringN(1, 8, ledger.MaxRequestID)

		actions := map[string]func(*rapid.T){
			"append": func(rt *rapid.T) {
				var batches []ledger.Batch
				for range rapid.IntRange(1, 4).Draw(rt, "batches") {
					b := drawBatch(rt, id)
					if _, used := m.receipts[b.RequestID]; used {
						continue // the Writer's part, not the store's
					}
					m.receipts[b.RequestID] = ledger.Receipt{}
					batches = append(batches, b)
				}
				h := m.head()
				Sealed(h, batches...)
				require.NoError(rt, s.Append(ctx, h.Seq, batches))
				for _, b := range batches {
					m.receipts[b.RequestID] = ledger.Receipt{Fingerprint: b.Fingerprint, Response: b.Response, FirstSeq: b.Entries[0].Seq}
					m.entries = append(m.entries, b.Entries...)
				}
			},
			"append elsewhere": func(rt *rapid.T) {
				at := rapid.Uint64Range(0, uint64(len(m.entries))+3).Draw(rt, "expected")
				if at == m.head().Seq {
					rt.Skip("that is the head")
				}
				b := Sealed(ledger.Head{Seq: at}, Batch("elsewhere-and-never-kept", 1))
				require.ErrorIs(rt, s.Append(ctx, at, b), ledger.ErrHeadMoved)
			},
			"scan": func(rt *rapid.T) {
				from := rapid.Uint64Range(0, uint64(len(m.entries))+2).Draw(rt, "from")
				var got []ledger.Entry
				require.NoError(rt, s.Scan(ctx, from, func(e ledger.Entry) error {
					got = append(got, e)
					return nil
				}))
				want := m.entries[min(max(from, 1)-1, uint64(len(m.entries))):]
				require.Len(rt, got, len(want))
				for i := range want {
					require.Equal(rt, want[i], got[i])
				}
			},
			"request": func(rt *rapid.T) {
				asked := id.Draw(rt, "request id")
				if len(m.entries) > 0 && rapid.Bool().Draw(rt, "known") {
					asked = rapid.SampledFrom(m.entries).Draw(rt, "of entry").RequestID
				}
				want, known := m.receipts[asked]
				got, found, err := s.Request(ctx, asked)
				require.NoError(rt, err)
				require.Equal(rt, known, found)
				require.Equal(rt, want.Fingerprint, got.Fingerprint)
				require.Equal(rt, want.FirstSeq, got.FirstSeq)
				require.Equal(rt, string(want.Response), string(got.Response))
			},
			"save a snapshot": func(rt *rapid.T) {
				snap := ledger.Snapshot{
					Head: m.at(rapid.Uint64Range(0, uint64(len(m.entries))).Draw(rt, "at")),
					Data: rapid.SliceOf(rapid.Byte()).Draw(rt, "data"),
				}
				require.NoError(rt, s.SaveSnapshot(ctx, snap))
				m.snapshot = &snap
			},
			"": func(rt *rapid.T) { // after each
				h, err := s.Head(ctx)
				require.NoError(rt, err)
				require.Equal(rt, m.head(), h)
				snap, found, err := s.Snapshot(ctx)
				require.NoError(rt, err)
				require.Equal(rt, m.snapshot != nil, found)
				if found {
					require.Equal(rt, m.snapshot.Head, snap.Head)
					require.Equal(rt, string(m.snapshot.Data), string(snap.Data))
				}
			},
		}
		if reopen != nil {
			actions["reopen"] = func(rt *rapid.T) {
				if rapid.IntRange(0, 3).Draw(rt, "now") != 0 {
					rt.Skip("opening takes long, so not too often")
				}
				require.NoError(rt, s.Close())
				s = reopen()
			}
		}
		rt.Repeat(actions)
	})
}

func drawBatch(rt *rapid.T, id *rapid.Generator[string]) ledger.Batch {
	text := rapid.String()
	b := ledger.Batch{
		RequestID:   id.Draw(rt, "request id"),
		Fingerprint: ledger.Hash(rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(rt, "fingerprint")),
		Response:    rapid.SliceOf(rapid.Byte()).Draw(rt, "response"),
	}
	for i := range rapid.IntRange(1, 3).Draw(rt, "entries") {
		e := ledger.Entry{
			At:     time.Unix(0, rapid.Int64().Draw(rt, "at")).In(time.FixedZone("", 3600)),
			Person: text.Draw(rt, "person"), Channel: text.Draw(rt, "channel"), Message: text.Draw(rt, "message"),
			Kind: text.Draw(rt, fmt.Sprint("kind ", i)),
		}
		if p := rapid.SliceOf(rapid.Byte()).Draw(rt, "payload"); len(p) > 0 {
			e.Payload = p // an empty payload reads back as nil
		}
		b.Entries = append(b.Entries, e)
	}
	return b
}
