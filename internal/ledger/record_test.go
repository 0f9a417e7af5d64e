package ledger_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bayword/internal/ledger"
)

func find() ledger.Batch {
	return ledger.Batch{RequestID: "r-1", Entries: []ledger.Entry{{
		At: time.Date(2031, 4, 7, 9, 30, 0, 5_999_999, time.UTC), Person: "Wren", Channel: "bay-2",
		Message: "m-1", Kind: "find_recorded", Payload: []byte{1, 2},
	}}}
}

// A ledger written once must be read for ever: these bytes, worked out
// from the format's description and not by this package, may not change.
func TestRecordFormat(t *testing.T) {
	t.Parallel()
	fields := bytes.Join([][]byte{
		{8}, // seq 8
		// 1933320600005 ms after 1970, zig-zag 3866641200010, seven bits a byte from the lowest
		{0x8a, 0xe7, 0x99, 0xae, 0xc4, 0x70},
		[]byte("\x04Wren"), []byte("\x05bay-2"), []byte("\x03m-1"), []byte("\x03r-1"), []byte("\x0dfind_recorded"),
		{2, 1, 2},
	}, nil)
	prev := ledger.Head{Seq: 7, Hash: sha256.Sum256([]byte("seven"))}
	hash := sha256.Sum256(append(prev.Hash[:], fields...))

	b := find()
	assert.Equal(t, ledger.Head{Seq: 8, Hash: hash}, ledger.Seal(prev, &b))
	record := ledger.AppendRecord(nil, &b.Entries[0])
	assert.Equal(t, hex.EncodeToString(append(fields, hash[:]...)), hex.EncodeToString(record))

	var d ledger.Decoder
	e, err := d.Record(record)
	require.NoError(t, err)
	assert.Equal(t, b.Entries[0], e)
	assert.Equal(t, time.Date(2031, 4, 7, 9, 30, 0, 5_000_000, time.UTC), e.At, "whole milliseconds")
	id, err := ledger.RecordRequest(record)
	require.NoError(t, err)
	assert.Equal(t, "r-1", string(id))
}

// No field can be changed, and no entry moved, without the chain saying so.
func TestChainHoldsEachField(t *testing.T) {
	t.Parallel()
	prev := ledger.Head{Seq: 7, Hash: sha256.Sum256([]byte("seven"))}
	sealed := find()
	next := ledger.Seal(prev, &sealed)
	got, err := ledger.Next(prev, &sealed.Entries[0])
	require.NoError(t, err)
	assert.Equal(t, next, got)

	for name, change := range map[string]func(*ledger.Entry){
		"seq":         func(e *ledger.Entry) { e.Seq++ },
		"at":          func(e *ledger.Entry) { e.At = e.At.Add(time.Millisecond) },
		"person":      func(e *ledger.Entry) { e.Person = "Tarn" },
		"channel":     func(e *ledger.Entry) { e.Channel = "" },
		"message":     func(e *ledger.Entry) { e.Message += "0" },
		"request":     func(e *ledger.Entry) { e.RequestID = "r-2" },
		"kind":        func(e *ledger.Entry) { e.Kind = "find_closed" },
		"payload":     func(e *ledger.Entry) { e.Payload = nil },
		"hash":        func(e *ledger.Entry) { e.Hash[31] ^= 1 },
		"moved bytes": func(e *ledger.Entry) { e.Person, e.Channel = "Wrenb", "ay-2" },
	} {
		e := sealed.Entries[0]
		change(&e)
		var corrupt *ledger.CorruptError
		_, err := ledger.Next(prev, &e)
		assert.ErrorAs(t, err, &corrupt, name)
		_, _, err = ledger.NextRecord(prev, e.Seq, ledger.AppendRecord(nil, &e), nil)
		assert.ErrorAs(t, err, &corrupt, name)
	}
	_, err = ledger.Next(ledger.Head{Seq: 7}, &sealed.Entries[0])
	assert.Error(t, err, "another entry before it")
}

// Any bytes are an entry's record or an error, and what is read is what was
// written.
func FuzzRecord(f *testing.F) {
	b := find()
	ledger.Seal(ledger.Head{}, &b)
	f.Add(ledger.AppendRecord(nil, &b.Entries[0]))
	f.Add([]byte{})
	f.Add(bytes.Repeat([]byte{0xff}, 80))
	f.Fuzz(func(t *testing.T, record []byte) {
		var d ledger.Decoder
		e, err := d.Record(record)
		id, idErr := ledger.RecordRequest(record)
		if err != nil {
			return
		}
		require.NoError(t, idErr)
		require.Equal(t, e.RequestID, string(id))
		again, err := d.Record(ledger.AppendRecord(nil, &e))
		require.NoError(t, err)
		require.Equal(t, e, again)
	})
}
