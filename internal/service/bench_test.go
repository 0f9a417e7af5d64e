package service_test

import (
	"context"
	"net"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/types/known/emptypb"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// echo is a server with one RPC that answers with what it was sent.
func echo(b *testing.B) *grpc.ClientConn {
	b.Helper()
	handler := func(_ any, _ context.Context, decode func(any) error, _ grpc.UnaryServerInterceptor) (any, error) {
		in := new(emptypb.Empty)
		return in, decode(in)
	}
	srv := grpc.NewServer()
	srv.RegisterService(&grpc.ServiceDesc{
		ServiceName: "echo", HandlerType: (*any)(nil),
		Methods: []grpc.MethodDesc{{MethodName: "Echo", Handler: handler}},
	}, nil)
	lis := bufconn.Listen(1 << 20)
	go func() { _ = srv.Serve(lis) }()
	b.Cleanup(srv.Stop)
	conn, err := grpc.NewClient("passthrough:///echo",
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return lis.DialContext(ctx) }),
		grpc.WithTransportCredentials(insecure.NewCredentials()))
	require.NoError(b, err)
	b.Cleanup(func() { _ = conn.Close() })
	return conn
}

// BenchmarkRead is GetStock beside an RPC that does nothing, on the same kind of
// connection; x-echo is how many times as long it takes. The two take turns, so
// that a busy machine slows both.
func BenchmarkRead(b *testing.B) {
	bn := newBench(b, ledger.NewMemory())
	conn := echo(b)
	ctx := b.Context()
	req := &pb.GetStockRequest{Origin: bn.by("mabel"), Material: "clearcoat"}
	in, out := new(emptypb.Empty), new(emptypb.Empty)
	require.NoError(b, conn.Invoke(ctx, "/echo/Echo", in, out))
	var read, plain stopwatch
	for b.Loop() {
		plain.time(func() error { return conn.Invoke(ctx, "/echo/Echo", in, out) }, b)
		read.time(func() error { _, err := bn.stock.GetStock(ctx, req); return err }, b)
	}
	b.ReportMetric(float64(plain.sum.Nanoseconds())/float64(plain.n), "ns/echo")
	b.ReportMetric(float64(read.sum.Nanoseconds())/float64(read.n), "ns/read")
	b.ReportMetric(float64(read.sum)/float64(plain.sum), "x-echo")
}
