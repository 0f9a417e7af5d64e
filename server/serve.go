package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"runtime/debug"
	"syscall"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/health"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/reflection"

	"bayword/internal/ledger"
	"bayword/internal/ledger/badger"
	"bayword/internal/photo"
	"bayword/internal/service"
	"bayword/internal/shop"
	"bayword/internal/shopfile"
	"bayword/testdata/demo"
)

const (
	// gcPercent keeps the heap near what lives in it: a million records are some
	// 60 MB, and a workshop's machine has other things to do.
	gcPercent = 50

	// patience is how long requests under way have to end when the server stops.
	patience = 5 * time.Second
)

// serve answers until ctx ends.
func serve(ctx context.Context, o options, stdout, stderr io.Writer) (err error) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
	log := slog.New(slog.NewTextHandler(stderr, nil))
	// The port first: a server that is running is told before the ledger is read.
	lis, err := (&net.ListenConfig{}).Listen(ctx, "tcp", o.listen)
	if err != nil {
		return listenError(o.listen, err)
	}
	defer lis.Close() //nolint:errcheck // the server closes it too
	store, err := badger.Open(o.data, badger.Options{})
	if err != nil {
		return openError(o.data, err)
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	photos, err := photo.Open(filepath.Join(o.data, "photos")) // beside the database's own folder
	if err != nil {
		return err
	}
	svc, err := service.New(ctx, service.Config{Store: store, Log: log, Photos: photos})
	if err != nil {
		return openError(o.data, err)
	}
	defer func() { err = errors.Join(err, svc.Close()) }()
	if err := begin(ctx, svc, o); err != nil {
		return err
	}
	debug.FreeOSMemory() // what the start needed and the rest does not

	srv := grpc.NewServer(append(svc.Options(), grpc.MaxRecvMsgSize(service.MaxPhotoMessage))...)
	svc.Register(srv)
	healthy := health.NewServer()
	healthpb.RegisterHealthServer(srv, healthy)
	reflection.Register(srv)

	if a, ok := lis.Addr().(*net.TCPAddr); ok && !a.IP.IsLoopback() {
		log.Warn("this address can be reached from other machines, and the API has no passwords: keep it behind a firewall", "address", lis.Addr().String())
	}
	_, _ = fmt.Fprintf(stdout, "listening on %s, ledger in %s\n", lis.Addr(), o.data)
	served := make(chan error, 1)
	go func() { served <- srv.Serve(lis) }()
	select {
	case err := <-served:
		return fmt.Errorf("the server stopped: %w", err)
	case <-svc.Failed():
		err = errors.New("the store failed, see the log: mend what it names, then start again; nothing that was acknowledged is lost")
	case <-ctx.Done():
	}
	healthy.Shutdown()
	stop(srv)
	if err != nil {
		return err
	}
	_, _ = fmt.Fprintln(stdout, "stopped")
	return nil
}

// stop lets requests under way end, for a while.
func stop(srv *grpc.Server) {
	done := make(chan struct{})
	go func() {
		defer close(done)
		srv.GracefulStop()
	}()
	select {
	case <-done:
	case <-time.After(patience):
		srv.Stop()
		<-done
	}
}

// begin imports the shop that the command line names.
func begin(ctx context.Context, svc *service.Service, o options) error {
	var events []shop.Event
	var err error
	switch {
	case o.importFile != "":
		if _, err := os.Stat(o.importFile); err != nil {
			return fmt.Errorf("the file or folder to import: %w", err)
		}
		events, err = shopfile.Open(o.importFile)
	case o.demo:
		events, err = shopfile.Read("demo shop", demo.ShopYAML)
	default:
		return nil
	}
	if err != nil {
		return fmt.Errorf("nothing was imported:\n%w", err)
	}
	if err := svc.Import(ctx, events); errors.Is(err, service.ErrNotEmpty) {
		return fmt.Errorf("%s holds another shop already: leave -demo and -import out, or give a new folder", o.data)
	} else if err != nil {
		return err
	}
	return nil
}

// listenError says what to do about an address that cannot be listened on.
func listenError(address string, err error) error {
	if errors.Is(err, syscall.EADDRINUSE) {
		return fmt.Errorf("%s is in use: stop the server that runs there, or give another address with -listen", address)
	}
	return fmt.Errorf("cannot listen on %q: %w; give an address such as %s", address, err, defaultListen)
}

// openError says what to do about a ledger that does not open.
func openError(dir string, err error) error {
	var corrupt *ledger.CorruptError
	if errors.As(err, &corrupt) {
		return fmt.Errorf("the ledger in %s is damaged and was left as it is: %w", dir, err)
	}
	return err // the store's own words say what to do
}
