package service_test

import (
	"context"
	"fmt"
	"net"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/types/known/emptypb"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
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

// BenchmarkRecord64 is 64 clients that each wait for their use to be durable,
// through gRPC, and beside it the ledger's writer alone with entries and answers
// of the same size on the same disk; x-writer is the ratio.
func BenchmarkRecord64(b *testing.B) {
	var bare, whole float64
	b.Run("writer", func(b *testing.B) {
		store := badgerStore(b)
		w, err := ledger.NewWriter(b.Context(), store, func([]ledger.Entry) {})
		require.NoError(b, err)
		defer w.Close()
		bare = from64(b, func(n int64) error {
			_, _, err := w.Do(b.Context(), fmt.Sprintf("m-%032d", n), ledger.Hash{}, func(uint64) (ledger.Batch, error) {
				return ledger.Batch{
					Entries: []ledger.Entry{{
						At: opened, Person: "mabel", Channel: "dm", Message: "1234567890.123456", Kind: "stock_use", Payload: []byte(strings.Repeat("p", 70)),
					}},
					Response: []byte(strings.Repeat("r", 90)),
				}, nil
			})
			return err
		})
	})
	b.Run("service", func(b *testing.B) {
		bn := newBench(b, badgerStore(b))
		_, err := bn.stock.RecordDelivery(b.Context(), &pb.RecordDeliveryRequest{Origin: bn.by("mabel"), RequestId: bn.id(), Material: "thinner", Amount: num(9999.0)})
		require.NoError(b, err)
		whole = from64(b, func(n int64) error {
			_, err := bn.stock.RecordUse(b.Context(), &pb.RecordUseRequest{
				Origin:    &pb.Origin{Person: "mabel", Channel: "dm", Message: "1234567890.123456", Text: "used a drop of thinner"},
				RequestId: fmt.Sprintf("m-%032d", n), Material: "thinner", Amount: num(0.0001),
			})
			return err
		})
		if bare > 0 {
			b.ReportMetric(whole/bare, "x-writer")
		}
	})
}

func badgerStore(b *testing.B) ledger.Store {
	b.Helper()
	store, err := badger.Open(b.TempDir(), badger.Options{NoBallast: true})
	require.NoError(b, err)
	b.Cleanup(func() { _ = store.Close() })
	return store
}

// from64 does b.N things from 64 goroutines and gives how many a second.
func from64(b *testing.B, do func(n int64) error) float64 {
	b.Helper()
	var next atomic.Int64
	var failed atomic.Pointer[error]
	var wg sync.WaitGroup
	b.ResetTimer()
	begin := time.Now()
	for range 64 {
		wg.Go(func() {
			for n := next.Add(1); n <= int64(b.N); n = next.Add(1) {
				if err := do(n); err != nil {
					failed.Store(&err)
					return
				}
			}
		})
	}
	wg.Wait()
	if err := failed.Load(); err != nil {
		b.Fatal(*err)
	}
	perSecond := float64(b.N) / time.Since(begin).Seconds()
	b.ReportMetric(perSecond, "records/s")
	return perSecond
}
