package ledger

import (
	"encoding/binary"
	"errors"
	"time"
)

var errRecord = errors.New("ledger: not an entry's record")

// appendFields appends every field but the hash: the sequence number and the
// milliseconds since 1970 as varints, then person, channel, message, request id,
// kind and payload, each after its length as a varint. The hash is taken over
// these bytes, so they must stay as they are for as long as a ledger is kept.
func appendFields(dst []byte, e *Entry) []byte {
	dst = binary.AppendUvarint(dst, e.Seq)
	dst = binary.AppendVarint(dst, e.At.UnixMilli())
	for _, s := range [...]string{e.Person, e.Channel, e.Message, e.RequestID, e.Kind} {
		dst = append(binary.AppendUvarint(dst, uint64(len(s))), s...)
	}
	return append(binary.AppendUvarint(dst, uint64(len(e.Payload))), e.Payload...)
}

// AppendRecord appends the stored form of e: its fields, then its hash.
func AppendRecord(dst []byte, e *Entry) []byte {
	return append(appendFields(dst, e), e.Hash[:]...)
}

// Decoder reads records. Few people, channels and kinds make most entries, so it
// keeps one copy of each for all the entries it reads. Not for concurrent use.
type Decoder struct {
	known map[string]string
}

// Record reads what AppendRecord wrote. The entry shares no memory with record.
func (d *Decoder) Record(record []byte) (Entry, error) {
	var e Entry
	if len(record) < len(e.Hash) {
		return e, errRecord
	}
	rest := record[:len(record)-len(e.Hash)]
	e.Hash = Hash(record[len(rest):])
	seq, n := binary.Uvarint(rest)
	if n <= 0 {
		return e, errRecord
	}
	rest = rest[n:]
	ms, n := binary.Varint(rest)
	if n <= 0 {
		return e, errRecord
	}
	rest = rest[n:]
	e.Seq, e.At = seq, time.UnixMilli(ms).UTC()

	var fields [6][]byte
	for i := range fields {
		size, n := binary.Uvarint(rest)
		if n <= 0 || size > uint64(len(rest)-n) {
			return e, errRecord
		}
		fields[i], rest = rest[n:n+int(size)], rest[n+int(size):]
	}
	if len(rest) != 0 {
		return e, errRecord
	}
	e.Person, e.Channel, e.Kind = d.intern(fields[0]), d.intern(fields[1]), d.intern(fields[4])
	e.Message, e.RequestID = string(fields[2]), string(fields[3])
	if len(fields[5]) > 0 {
		e.Payload = append([]byte(nil), fields[5]...)
	}
	return e, nil
}

// RecordRequest is the request id in a record, in the record's own memory.
func RecordRequest(record []byte) ([]byte, error) {
	rest := record
	for i := range 6 { // two numbers, then person, channel, message, request id
		size, n := binary.Uvarint(rest)
		if n <= 0 {
			return nil, errRecord
		}
		rest = rest[n:]
		if i < 2 {
			continue
		}
		if size > uint64(len(rest)) {
			return nil, errRecord
		}
		if i == 5 {
			return rest[:size], nil
		}
		rest = rest[size:]
	}
	return nil, errRecord
}

func (d *Decoder) intern(b []byte) string {
	const most = 1024 // so that a ledger of unlike names costs no memory
	if s, ok := d.known[string(b)]; ok {
		return s
	}
	s := string(b)
	if len(d.known) < most {
		if d.known == nil {
			d.known = make(map[string]string)
		}
		d.known[s] = s
	}
	return s
}
