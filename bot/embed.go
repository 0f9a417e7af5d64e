package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"strings"
	"time"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/service"
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
	var store ledger.Store = ledger.NewMemory()
	if o.data != "" {
		opened, err := badger.Open(o.data, badger.Options{})
		if err != nil {
			return nil, nil, err
		}
		store = opened
	}
	name, shop := "", []byte(nil)
	switch {
	case o.importFile != "":
		data, err := os.ReadFile(o.importFile)
		if err != nil {
			return nil, nil, fmt.Errorf("cannot read the shop file: %w", err)
		}
		name, shop = o.importFile, data
	case o.demo:
		name, shop = "shop.yaml", demo.ShopYAML
	}
	conn, stop, err := inProcess(ctx, store, name, shop, time.Now)
	if err != nil {
		_ = store.Close()
		return nil, nil, err
	}
	return conn, func() { stop(); _ = store.Close() }, nil
}

// inProcess serves a store over an in-process connection, with a shop loaded
// into it when it is empty.
func inProcess(ctx context.Context, store ledger.Store, name string, shop []byte, clock func() time.Time) (*grpc.ClientConn, func(), error) {
	svc, err := service.New(ctx, service.Config{Store: store, Clock: clock})
	if err != nil {
		return nil, nil, err
	}
	if shop != nil {
		events, err := shopfile.Read(name, shop)
		if err == nil {
			err = svc.Import(ctx, events)
		}
		if err != nil {
			_ = svc.Close()
			return nil, nil, err
		}
	}
	listener := bufconn.Listen(1 << 20)
	server := grpc.NewServer(svc.Options()...)
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
