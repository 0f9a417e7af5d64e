package service_test

import (
	"context"
	"fmt"
	"log/slog"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/prototext"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
	"google.golang.org/protobuf/types/known/timestamppb"
	"pgregory.net/rapid"

	"bayword/internal/ledger"
	"bayword/internal/service"
	pb "bayword/proto/bayword/v1"
)

// talked is a shop in which anything is said, at any time.
type talked struct {
	svc  *service.Service
	now  time.Time
	n    int
	made []made
}

// made is a record that was made, and what asked for it.
type made struct {
	entry uint64
	req   protoreflect.Message
}

func talk(t require.TestingT, store ledger.Store, now time.Time) *talked {
	s := &talked{now: now}
	svc, err := service.New(context.Background(), service.Config{Store: store, Clock: func() time.Time { return s.now }, Log: slog.New(slog.DiscardHandler)})
	require.NoError(t, err)
	s.svc = svc
	return s
}

// ask calls the RPC that takes a request.
func (s *talked) ask(req proto.Message) (proto.Message, error) {
	if err := service.Clean(req); err != nil {
		return nil, status.Error(codes.InvalidArgument, err.Error())
	}
	name := strings.TrimSuffix(string(req.ProtoReflect().Descriptor().Name()), "Request")
	out := reflect.ValueOf(s.svc).MethodByName(name).Call([]reflect.Value{reflect.ValueOf(context.Background()), reflect.ValueOf(req)})
	err, _ := out[1].Interface().(error)
	resp, _ := out[0].Interface().(proto.Message)
	return resp, err
}

// pools are what a field may say, by its name. Most of it fits the demo shop.
var pools = map[protoreflect.Name][]string{
	"job": {"heron", "osmere", "pilot", "tern", "siskin", "linnet"}, "material": {"clearcoat", "thinner", "epoxy-primer", "etch-primer"},
	"panel": {"sill", "door", "bonnet", "roof", "boot lid", "whole body"}, "panels": {"bonnet", "roof", "door", "boot lid"},
	"person": {"wren", "idris", "mabel", "jonah", "dag"}, "people": {"wren", "idris", "mabel", "jonah", "dag"}, "who": {"idris", "jonah", "dag"},
	"task": {"2", "3", "7", "11", "13", "right sill", "badge"}, "work": {"metal", "paint", "2", "7", "13"},
	"part":     {"propshaft", "tailgate seal", "door seal set", "rear wing panel", "heater matrix"},
	"fastener": {"wheel nut", "hub nut", "sump plug"}, "supplier": {"fenwright", "Coldharbour Glass", "a man; at the \\ fair"},
	"expires": {"2026-03-31", "2027-01-31"}, "day": {"2026-03-09", "2026-03-10"},
	"channel": {"bay-1", "bay-2", "tearoom", "dm"}, "role": {"lead", "apprentice"}, "unit": {"L", "each"},
}

// tales are fields for any text.
var tales = []protoreflect.Name{"text", "why", "note", "title", "condition", "batch", "source", "customer", "name"}

// value draws what a field says; ok is false for one that is left as it is.
func (s *talked) value(t *rapid.T, f protoreflect.FieldDescriptor) (v protoreflect.Value, ok bool) {
	switch name := f.Name(); f.Kind() {
	case protoreflect.StringKind:
		hours := func(from, to int) time.Time {
			return s.now.Add(time.Duration(rapid.IntRange(from, to).Draw(t, string(name))) * time.Hour)
		}
		switch pool := pools[name]; {
		case name == "at":
			return protoreflect.ValueOfString(hours(-3, 30).Format("2006-01-02T15:04")), true
		case name == "due":
			return protoreflect.ValueOfString(hours(0, 400).Format(time.DateOnly)), true
		case pool != nil:
			return protoreflect.ValueOfString(rapid.SampledFrom(pool).Draw(t, string(name))), true
		case slices.Contains(tales, name):
			return protoreflect.ValueOfString(rapid.StringMatching(`[a-z'="; @\\é-]{1,12}[a-z]`).Draw(t, string(name))), true
		}
	case protoreflect.BoolKind:
		return protoreflect.ValueOfBool(rapid.Bool().Draw(t, string(name))), name != "validate_only"
	case protoreflect.DoubleKind:
		return protoreflect.ValueOfFloat64(float64(rapid.IntRange(1, 400).Draw(t, string(name))) / 8), true
	case protoreflect.Uint32Kind:
		return protoreflect.ValueOfUint32(rapid.Uint32Range(1, 5).Draw(t, string(name))), true
	case protoreflect.EnumKind:
		return protoreflect.ValueOfEnum(protoreflect.EnumNumber(rapid.IntRange(0, f.Enum().Values().Len()-1).Draw(t, string(name)))), true
	}
	return v, false
}

// about draws the record that is changed or taken back: one that was said, or that
// came with the shop.
func (s *talked) about(t *rapid.T) made {
	if len(s.made) > 0 && rapid.Bool().Draw(t, "one that was said") {
		return rapid.SampledFrom(s.made).Draw(t, "record")
	}
	return made{rapid.Uint64Range(97, 100).Draw(t, "part"), (&pb.RecordOrderRequest{Part: "propshaft", Supplier: "fenwright"}).ProtoReflect()}
}

// change draws what fields say, and whether they are changed; seldom is of a
// hundred.
func (s *talked) change(t *rapid.T, m protoreflect.Message, seldom func(protoreflect.FieldDescriptor) int) {
	for i := range m.Descriptor().Fields().Len() {
		f := m.Descriptor().Fields().Get(i)
		if rapid.IntRange(0, 99).Draw(t, "change") < seldom(f) {
			continue
		}
		switch v, ok := s.value(t, f); {
		case !ok:
		case f.IsList():
			m.Mutable(f).List().Append(v)
		default:
			m.Set(f, v)
		}
	}
}

// draw draws a request of any RPC that writes. An amendment changes what the record
// that it is of says.
func (s *talked) draw(t *rapid.T) proto.Message {
	of := s.about(t)
	all := writes(of.entry)
	req := all[(rapid.IntRange(0, len(all)-1).Draw(t, "request")+s.n)%len(all)] // what comes first would come most often
	if rapid.IntRange(0, 7).Draw(t, "amended") == 7 {
		req = &pb.AmendRequest{Entry: of.entry}
	}
	switch req := req.(type) {
	case *pb.AmendRequest:
		req.Amount = nil
		s.change(t, req.ProtoReflect(), func(f protoreflect.FieldDescriptor) int {
			if had := of.req.Descriptor().Fields().ByName(f.Name()); had != nil && of.req.Has(had) {
				return 50
			}
			return 99
		})
		return req
	case *pb.MarkNoticeRequest:
		due, err := s.svc.ListNotices(context.Background(), &pb.ListNoticesRequest{})
		require.NoError(t, err)
		for _, n := range due.Notices {
			req.Id = n.Id
		}
		return req
	case *pb.RemindRequest:
		req.At = s.now.Add(time.Hour).Format("2006-01-02T15:04")
	}
	s.change(t, req.ProtoReflect(), func(f protoreflect.FieldDescriptor) int {
		if req.ProtoReflect().Has(f) {
			return 70
		}
		return 98
	})
	return req
}

// say draws one request and makes it some time later; a refusal is as good as any
// answer. It gives the kind of what was carried out.
func (s *talked) say(t *rapid.T) (kind string) {
	s.n++
	s.now = s.now.Add(time.Duration(rapid.IntRange(0, 500).Draw(t, "minutes")) * time.Minute)
	req := s.draw(t)
	who := &pb.Origin{
		Person:  rapid.SampledFrom([]string{"wren", "wren", "wren", "wren", "wren", "idris", "mabel", "jonah", "U0STRANGER"}).Draw(t, "who says"),
		Channel: "bay-2", Message: fmt.Sprint("m", s.n), SaidAt: timestamppb.New(s.now),
	}
	if rapid.IntRange(0, 4).Draw(t, "photograph") == 4 {
		who.Photos = []*pb.Photo{{Name: "a; b.jpg", Sha256: strings.Repeat("0a", 32)}, {Name: "lost.jpg"}}
	}
	m := req.ProtoReflect()
	m.Set(m.Descriptor().Fields().ByName("origin"), protoreflect.ValueOfMessage(who.ProtoReflect()))
	m.Set(m.Descriptor().Fields().ByName("request_id"), protoreflect.ValueOfString(fmt.Sprint("r", s.n)))
	resp, err := s.ask(req)
	require.NotContains(t, []codes.Code{codes.Internal, codes.Unknown, codes.Unavailable}, status.Code(err), "%v: %v", req, err)
	if err != nil {
		return ""
	}
	s.made = append(s.made, made{resp.(writeResponse).GetReceipt().GetEntry(), m})
	return string(m.Descriptor().Name())
}

// writeResponse is what every response to a request that writes has.
type writeResponse interface{ GetReceipt() *pb.Receipt }

// entryNumbers are fields and words that name entries, which another ledger numbers
// anew.
var (
	entryNumbers = []protoreflect.Name{"entry", "entries", "job_entry", "last_entry", "version"}
	entryWords   = regexp.MustCompile(`#\d+|\b(entry |entries |coat-|reminder-)\d+(, \d+)*`)
)

func unnumbered(m protoreflect.Message) {
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case slices.Contains(entryNumbers, f.Name()):
			m.Clear(f)
		case f.IsMap():
		case f.IsList() && f.Message() != nil:
			for i := range v.List().Len() {
				unnumbered(v.List().Get(i).Message())
			}
		case f.Message() != nil:
			unnumbered(v.Message())
		case f.Kind() == protoreflect.StringKind && !f.IsList():
			m.Set(f, protoreflect.ValueOfString(entryWords.ReplaceAllString(v.String(), "$1")))
		case f.Kind() == protoreflect.StringKind:
			for i := range v.List().Len() {
				v.List().Set(i, protoreflect.ValueOfString(entryWords.ReplaceAllString(v.List().Get(i).String(), "$1")))
			}
		}
		return true
	})
}

// views is all that a shop answers to questions about it, without the numbers of
// entries: one text a question.
func (s *talked) views(t require.TestingT) map[string]string {
	ctx := context.Background()
	names, err := s.svc.GetVocabulary(ctx, &pb.GetVocabularyRequest{})
	require.NoError(t, err)
	all := map[string]string{}
	view := func(req proto.Message) {
		resp, err := s.ask(req)
		text := fmt.Sprint(status.Code(err))
		if err == nil {
			unnumbered(resp.ProtoReflect())
			text = prototext.Format(resp)
		}
		all[fmt.Sprintf("%T %v", req, req)] = text
	}
	protoregistry.GlobalFiles.RangeFilesByPackage("bayword.v1", func(file protoreflect.FileDescriptor) bool {
		for i := range file.Services().Len() {
			methods := file.Services().Get(i).Methods()
			for j := range methods.Len() {
				in := methods.Get(j).Input()
				kind, err := protoregistry.GlobalTypes.FindMessageByName(in.FullName())
				require.NoError(t, err)
				job, material := in.Fields().ByName("job"), in.Fields().ByName("material")
				of := func(f protoreflect.FieldDescriptor, id string) {
					req := kind.New()
					req.Set(f, protoreflect.ValueOfString(id))
					if page := in.Fields().ByName("page_size"); page != nil {
						req.Set(page, protoreflect.ValueOfInt32(200))
					}
					view(req.Interface())
				}
				switch {
				case in.Fields().ByName("request_id") != nil, methods.Get(j).Name() == "PutPhoto":
					continue
				case job != nil:
					for _, n := range names.Jobs {
						of(job, n.Id)
					}
				case material != nil:
					for _, n := range names.Materials {
						of(material, n.Id)
					}
				}
				view(kind.New().Interface())
			}
		}
		return true
	})
	return all
}

// kinds counts what was carried out, over all that a property draws.
type kinds struct {
	mu sync.Mutex
	of map[string]int
}

func (k *kinds) count(kind string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.of[kind]++
}

// every holds that each RPC that writes was carried out.
func (k *kinds) every(t *testing.T) {
	t.Helper()
	for _, req := range writes(1) {
		require.NotZero(t, k.of[string(req.ProtoReflect().Descriptor().Name())], "%T was never carried out: %v", req, k.of)
	}
}
