package service

import (
	"context"
	"crypto/sha256"
	"errors"
	"time"
	"unicode/utf8"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"

	"bayword/internal/ledger"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// writeRequest is what every request that writes has.
type writeRequest interface {
	proto.Message
	GetOrigin() *pb.Origin
	GetRequestId() string
	GetValidateOnly() bool
}

// writeResponse is what every response to it has.
type writeResponse interface {
	proto.Message
	GetReceipt() *pb.Receipt
}

// decider decides a request; by is the person and now the moment it was said, in
// the shop's time zone.
type decider func(st *shop.State, by string, now time.Time) (shop.Decision, error)

// answerer makes the response of what was decided and folded; record is the entry
// of the record it is about, and now the moment of the answer.
type answerer[R writeResponse] func(st *shop.State, record uint64, receipt *pb.Receipt, d shop.Decision, now time.Time) R

// write carries one request out: decided on the ledger's writer, durable when it
// returns. The same request id gives the same response again.
func write[R writeResponse](ctx context.Context, s *Service, req writeRequest, decide decider, answer answerer[R]) (R, error) {
	var none R
	now := s.clock()
	if req.GetValidateOnly() || req.GetRequestId() == "" {
		resp, err := dryRun(s, req, now, decide, answer)
		if err == nil && !req.GetValidateOnly() {
			err = &shop.Refusal{Reason: shop.MissingField, Metadata: map[string]string{"field": "request_id"}}
		}
		if err != nil {
			return none, s.failure(err)
		}
		return resp, nil
	}
	fingerprint, err := fingerprintOf(req)
	if err != nil {
		return none, s.failure(err)
	}
	response, repeated, err := s.writer.Do(ctx, req.GetRequestId(), fingerprint, func(seq uint64) (ledger.Batch, error) {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.rewind()
		whole := false
		defer func() {
			if !whole {
				s.rewind()
			}
		}()
		resp, d, err := carryOut(s, req, seq, now, decide, answer)
		if err != nil {
			return ledger.Batch{}, err
		}
		o := req.GetOrigin()
		kind, payload, err := encode(d.Event, words{o.GetText(), s.saidAt(o, now), photosOf(o)})
		if err != nil {
			return ledger.Batch{}, err
		}
		body, err := proto.MarshalOptions{Deterministic: true}.Marshal(resp)
		whole = err == nil
		return ledger.Batch{
			Entries: []ledger.Entry{{
				At: now, Person: o.GetPerson(), Channel: o.GetChannel(), Message: o.GetMessage(), Kind: kind, Payload: payload,
			}},
			Response: body,
		}, err
	})
	if errors.Is(err, ledger.ErrRequestReused) {
		return none, refused(codes.AlreadyExists, pb.RefusalReason_REFUSAL_REASON_REQUEST_REUSED, map[string]string{"request_id": req.GetRequestId()})
	}
	if err != nil {
		return none, s.failure(err)
	}
	resp, _ := none.ProtoReflect().New().Interface().(R)
	if err := proto.Unmarshal(response, resp); err != nil {
		return none, s.failure(err)
	}
	if repeated {
		resp.GetReceipt().RepeatedRequest = true
	}
	return resp, nil
}

// carryOut decides, folds, and answers from the state after it. mu is held.
func carryOut[R writeResponse](s *Service, req writeRequest, seq uint64, now time.Time, decide decider, answer answerer[R]) (R, shop.Decision, error) {
	var none R
	o := req.GetOrigin()
	said := s.saidAt(o, now)
	d, err := decide(s.state, o.GetPerson(), said.In(s.zone))
	if err != nil {
		return none, d, err
	}
	if err := s.apply(shop.Meta{Seq: seq, Person: o.GetPerson(), At: said, Photos: photosOf(o)}, d.Event); err != nil {
		return none, d, err
	}
	return answer(s.state, seq, &pb.Receipt{Entry: seq, Warnings: d.Warnings}, d, now), d, nil
}

// dryRun answers as if the request were carried out, and leaves no trace.
func dryRun[R writeResponse](s *Service, req writeRequest, now time.Time, decide decider, answer answerer[R]) (R, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var none R
	kept := s.pending
	s.pending = nil
	defer func() {
		s.rewind()
		s.pending = kept
	}()
	resp, _, err := carryOut(s, req, s.state.Seq()+1, now, decide, answer)
	if err != nil {
		return none, err
	}
	resp.GetReceipt().Entry = 0
	return resp, nil
}

// saidAt is when the request was said: as its origin has it, if that can be, or
// else now.
func (s *Service) saidAt(o *pb.Origin, now time.Time) time.Time {
	const oldest = 366 * 24 * time.Hour
	if o.GetSaidAt() == nil {
		return now
	}
	at := o.GetSaidAt().AsTime()
	if at.After(now) || at.Before(now.Add(-oldest)) {
		return now
	}
	return at
}

// photosOf gives the photographs that came with a request's message.
func photosOf(o *pb.Origin) []shop.Photo {
	var photos []shop.Photo
	for _, p := range o.GetPhotos() {
		photos = append(photos, shop.Photo{Name: p.GetName(), SHA256: p.GetSha256()})
	}
	return photos
}

// fingerprintOf tells one request from another with the same id.
func fingerprintOf(req proto.Message) (ledger.Hash, error) {
	name := req.ProtoReflect().Descriptor().FullName()
	body, err := proto.MarshalOptions{Deterministic: true}.MarshalAppend([]byte(name), req)
	return sha256.Sum256(body), err
}

// cut shortens text to at most n characters.
func cut(text string, n int) string {
	if len(text) <= n || utf8.RuneCountInString(text) <= n {
		return text
	}
	return string([]rune(text)[:n])
}
