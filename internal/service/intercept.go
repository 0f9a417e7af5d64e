package service

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"
)

const (
	// MaxMessage is how large a request may be, in bytes: far more than any real
	// one, far less than what hurts.
	MaxMessage = 1 << 20

	// deadline ends a request that came with none.
	deadline = 10 * time.Second
)

// Options are those of the gRPC server that this service wants.
func (s *Service) Options() []grpc.ServerOption {
	return []grpc.ServerOption{grpc.MaxRecvMsgSize(MaxMessage), grpc.UnaryInterceptor(s.intercept)}
}

// intercept cleans the request, gives it a deadline, and turns a panic into an
// error, so that one bad request stops nobody else.
func (s *Service) intercept(ctx context.Context, req any, info *grpc.UnaryServerInfo, handle grpc.UnaryHandler) (resp any, err error) {
	defer func() {
		if p := recover(); p != nil {
			resp, err = nil, s.failure(fmt.Errorf("panic in %s: %v\n%s", info.FullMethod, p, debug.Stack()))
		}
	}()
	if _, ok := ctx.Deadline(); !ok {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, deadline)
		defer cancel()
	}
	if m, ok := req.(proto.Message); ok {
		if err := clean(m); err != nil {
			return nil, s.failure(err)
		}
	}
	return handle(ctx, req)
}
