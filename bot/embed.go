package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strings"
	"time"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/photo"
	"bayword/internal/service"
	"bayword/internal/shop"
	"bayword/internal/shopfile"
	pb "bayword/proto/bayword/v1"
	"bayword/testdata/demo"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"
)

// embedded starts a server in this process and connects to it.
func embedded(ctx context.Context, o options) (*grpc.ClientConn, func(), error) {
	if !o.demo && o.data == "" && o.importFile == "" {
		o.demo = true // -why and a first try need a shop
	}
	events, err := beginning(o)
	if err != nil {
		return nil, nil, err
	}
	if o.data == "" {
		return serveInProcess(ctx, service.Config{Store: ledger.NewMemory(), Clock: time.Now, Photos: &photo.Memory{}}, events)
	}
	store, err := badger.Open(o.data, badger.Options{})
	if err != nil {
		return nil, nil, err
	}
	kept, err := photo.Open(filepath.Join(o.data, "photos")) // beside the database's own folder
	if err != nil {
		_ = store.Close()
		return nil, nil, err
	}
	conn, stop, err := serveInProcess(ctx, service.Config{Store: store, Photos: kept}, events)
	if err != nil {
		_ = store.Close()
		return nil, nil, err
	}
	return conn, func() { stop(); _ = store.Close() }, nil
}

// beginning reads the shop that the command line names, none when it names none.
func beginning(o options) ([]shop.Event, error) {
	switch {
	case o.importFile != "":
		if _, err := os.Stat(o.importFile); err != nil {
			return nil, fmt.Errorf("cannot read the shop file or folder: %w", err)
		}
		return shopfile.Open(o.importFile)
	case o.demo:
		return shopfile.Read("shop.yaml", demo.ShopYAML)
	}
	return nil, nil
}

// inProcess serves a store over an in-process connection, with a shop file loaded
// into it when it is empty. Photographs are kept as long as it is served.
//
//nolint:unparam // what errors call the file is the caller's to say
func inProcess(ctx context.Context, store ledger.Store, name string, file []byte, clock func() time.Time) (*grpc.ClientConn, func(), error) {
	events, err := shopfile.Read(name, file)
	if err != nil {
		return nil, nil, err
	}
	return serveInProcess(ctx, service.Config{Store: store, Clock: clock, Photos: &photo.Memory{}}, events)
}

func serveInProcess(ctx context.Context, c service.Config, events []shop.Event) (*grpc.ClientConn, func(), error) {
	svc, err := service.New(ctx, c)
	if err != nil {
		return nil, nil, err
	}
	if len(events) > 0 {
		if err := svc.Import(ctx, events); err != nil {
			_ = svc.Close()
			return nil, nil, err
		}
	}
	listener := bufconn.Listen(1 << 20)
	server := grpc.NewServer(append(svc.Options(), grpc.MaxRecvMsgSize(service.MaxPhotoMessage))...)
	svc.Register(server)
	go func() { _ = server.Serve(listener) }()
	conn, err := grpc.NewClient("passthrough:///in-process", grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return listener.DialContext(ctx) }))
	if err != nil {
		server.Stop()
		_ = svc.Close()
		return nil, nil, err
	}
	return conn, func() { _ = conn.Close(); server.Stop(); _ = svc.Close() }, nil
}

// greeting is the terminal's first words.
func greeting(names *pb.GetVocabularyResponse, o options) string {
	var b strings.Builder
	shop := names.GetShop()
	if shop == "" {
		shop = "this shop"
	}
	fmt.Fprintf(&b, "Bayword at %s. ", shop)
	if len(names.GetPeople()) == 0 {
		b.WriteString("The shop is empty: start again with -import shop.yaml to load its people and jobs, or with -demo to look around.")
		return b.String()
	}
	fmt.Fprintf(&b, "You are %s in %s. Say «help», or /? for commands.", o.as, o.in)
	return b.String()
}
