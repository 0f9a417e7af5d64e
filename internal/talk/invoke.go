package talk

import (
	"context"
	"fmt"
	"time"

	"bayword/internal/surface"
	pb "bayword/proto/bayword/v1"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
)

// method is how a kind is called.
type method struct {
	path string
	resp protoreflect.MessageType
}

// methods maps each kind to its RPC, from the API's descriptors.
func methods() map[string]method {
	out := map[string]method{}
	protoregistry.GlobalFiles.RangeFilesByPackage("bayword.v1", func(f protoreflect.FileDescriptor) bool {
		for i := range f.Services().Len() {
			s := f.Services().Get(i)
			for j := range s.Methods().Len() {
				m := s.Methods().Get(j)
				resp, err := protoregistry.GlobalTypes.FindMessageByName(m.Output().FullName())
				if err != nil {
					continue
				}
				out[string(m.Name())] = method{path: fmt.Sprintf("/%s/%s", s.FullName(), m.Name()), resp: resp}
			}
		}
		return true
	})
	return out
}

// invoke calls the RPC of a kind. A service that cannot be reached is tried
// again, with the same request id.
func (t *Talk) invoke(ctx context.Context, kind string, req proto.Message) (proto.Message, error) {
	m, ok := t.methods[kind]
	if !ok {
		return nil, fmt.Errorf("no RPC for kind %q", kind)
	}
	wait := 100 * time.Millisecond
	for try := 1; ; try++ {
		resp := m.resp.New().Interface()
		err := t.conn.Invoke(ctx, m.path, req, resp)
		if err == nil || status.Code(err) != codes.Unavailable || reason(err) != "" || try == 3 {
			return resp, err
		}
		select {
		case <-ctx.Done():
			return nil, err
		case <-time.After(wait):
			wait *= 4
		}
	}
}

// setEnvelope fills who asks, the request id and whether only to check.
func setEnvelope(req proto.Message, m surface.Message, id string, checkOnly bool) {
	r := req.ProtoReflect()
	fields := r.Descriptor().Fields()
	if fd := fields.ByName("origin"); fd != nil {
		r.Set(fd, valueOf(origin(m)))
	}
	if fd := fields.ByName("request_id"); fd != nil && id != "" {
		r.Set(fd, protoreflect.ValueOfString(id))
	}
	if fd := fields.ByName("validate_only"); fd != nil && checkOnly {
		r.Set(fd, protoreflect.ValueOfBool(true))
	}
}

func valueOf(m proto.Message) protoreflect.Value {
	return protoreflect.ValueOfMessage(m.ProtoReflect())
}

// entryOf returns the ledger entry that a write's response names.
func entryOf(resp proto.Message) uint64 {
	if r, ok := resp.(interface{ GetReceipt() *pb.Receipt }); ok {
		return r.GetReceipt().GetEntry()
	}
	return 0
}

// numberOf returns the number of the find, task, part, snag or extra that a
// response is about, or 0.
func numberOf(resp proto.Message) int {
	switch r := resp.(type) {
	case interface{ GetFind() *pb.Find }:
		return int(r.GetFind().GetNumber())
	case interface{ GetTask() *pb.Task }:
		return int(r.GetTask().GetNumber())
	case interface{ GetSnag() *pb.Snag }:
		return int(r.GetSnag().GetNumber())
	case interface{ GetExtra() *pb.Extra }:
		return int(r.GetExtra().GetNumber())
	case interface{ GetPart() *pb.Part }:
		return int(r.GetPart().GetNumber())
	case interface{ GetExtras() []*pb.Extra }:
		if len(r.GetExtras()) == 1 {
			return int(r.GetExtras()[0].GetNumber()) // «that one» of a list of one
		}
	}
	return 0
}

// figureOf returns the one figure of an answer with its unit, when it has one
// that people ask for in another unit.
func figureOf(resp proto.Message) (float64, string) {
	switch r := resp.(type) {
	case *pb.LookUpTorqueResponse:
		if refs := r.GetReferences(); len(refs) > 0 {
			return refs[0].GetTorqueNm(), "nm"
		}
	case *pb.ComputeTorqueResponse:
		return r.GetTorqueNm(), "nm"
	case *pb.AdjustWrenchResponse:
		return r.GetSettingNm(), "nm"
	case *pb.RecordTorqueResponse:
		return r.GetSignOff().GetTorqueNm(), "nm"
	}
	return 0, ""
}
