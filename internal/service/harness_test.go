package service_test

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/status"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/ledger"
	"bayword/internal/photo"
	"bayword/internal/service"
	"bayword/internal/shop"
	"bayword/internal/shopfile"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"
)

// opened is when the tests' shop opens: Tuesday 2026-03-10 10:15 in London.
var opened = time.Date(2026, 3, 10, 10, 15, 0, 0, time.UTC)

// bench is a demo shop behind a gRPC connection in memory.
type bench struct {
	t     testing.TB
	svc   *service.Service
	store ledger.Store
	conn  *grpc.ClientConn
	now   time.Time
	n     int

	torque pb.TorqueServiceClient
	gaps   pb.GapServiceClient
	finds  pb.FindServiceClient
	stock  pb.StockServiceClient
	paint  pb.CoatingServiceClient
	hours  pb.HoursServiceClient
	jobs   pb.JobServiceClient
	notes  pb.NoteServiceClient
	record pb.RecordServiceClient
	help   pb.HelpServiceClient
	names  pb.VocabularyServiceClient
}

func demoEvents(t testing.TB) []shop.Event {
	t.Helper()
	events, err := shopfile.Read("shop.yaml", demo.ShopYAML)
	require.NoError(t, err)
	return events
}

// newBench opens the demo shop on a store.
func newBench(t testing.TB, store ledger.Store) *bench {
	t.Helper()
	b := &bench{t: t, store: store, now: opened}
	svc, err := service.New(t.Context(), service.Config{
		Store: store, Clock: func() time.Time { return b.now }, Log: slog.New(slog.DiscardHandler), Photos: &photo.Memory{},
	})
	require.NoError(t, err)
	b.svc = svc
	require.NoError(t, svc.Import(t.Context(), demoEvents(t)))
	b.conn = serve(t, svc)
	b.torque, b.gaps, b.finds = pb.NewTorqueServiceClient(b.conn), pb.NewGapServiceClient(b.conn), pb.NewFindServiceClient(b.conn)
	b.stock, b.hours, b.jobs = pb.NewStockServiceClient(b.conn), pb.NewHoursServiceClient(b.conn), pb.NewJobServiceClient(b.conn)
	b.notes, b.record, b.help = pb.NewNoteServiceClient(b.conn), pb.NewRecordServiceClient(b.conn), pb.NewHelpServiceClient(b.conn)
	b.names, b.paint = pb.NewVocabularyServiceClient(b.conn), pb.NewCoatingServiceClient(b.conn)
	t.Cleanup(func() { require.NoError(t, svc.Close()) })
	return b
}

// serve makes a service answer on a connection in memory.
func serve(t testing.TB, svc *service.Service) *grpc.ClientConn {
	t.Helper()
	lis := bufconn.Listen(1 << 20)
	srv := grpc.NewServer(svc.Options()...)
	svc.Register(srv)
	done := make(chan struct{})
	go func() {
		defer close(done)
		_ = srv.Serve(lis)
	}()
	t.Cleanup(func() {
		srv.Stop()
		<-done
	})
	conn, err := grpc.NewClient("passthrough:///bench",
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return lis.DialContext(ctx) }),
		grpc.WithTransportCredentials(insecure.NewCredentials()))
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close() })
	return conn
}

// by is the origin of a message from a person.
func (b *bench) by(person string) *pb.Origin {
	b.n++
	return &pb.Origin{Person: person, Channel: "dm", Message: fmt.Sprintf("m%d", b.n), SaidAt: timestamppb.New(b.now)}
}

// id is a new request id.
func (b *bench) id() string {
	b.n++
	return fmt.Sprintf("r%d", b.n)
}

// onHand asks how much there is of a material.
func (b *bench) onHand(material string) float64 {
	b.t.Helper()
	resp, err := b.stock.GetStock(b.t.Context(), &pb.GetStockRequest{Origin: b.by("mabel"), Material: material})
	require.NoError(b.t, err)
	return resp.Stock.OnHand
}

// info gives the details of a refusal.
func info(t testing.TB, err error) *errdetails.ErrorInfo {
	t.Helper()
	require.Error(t, err)
	for _, d := range status.Convert(err).Details() {
		if i, ok := d.(*errdetails.ErrorInfo); ok {
			return i
		}
	}
	require.Fail(t, "no ErrorInfo", "%v", err)
	return nil
}

func num[T any](v T) *T { return &v }

// use records a use of a material.
func (b *bench) use(person, material string, amount float64) *pb.RecordUseResponse {
	b.t.Helper()
	resp, err := b.stock.RecordUse(b.t.Context(), &pb.RecordUseRequest{
		Origin: b.by(person), RequestId: b.id(), Material: material, Amount: &amount,
	})
	require.NoError(b.t, err)
	return resp
}
