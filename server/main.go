// Command server keeps a shop's ledger and answers its API over gRPC.
//
//	go run ./server -data DIR [-listen ADDR] [-demo | -import FILE]
//	go run ./server verify -data DIR
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	_ "time/tzdata" // the shop's time zone, on machines without a list of them
)

// Exit codes.
const (
	exitOK     = 0
	exitFailed = 1
	exitUsage  = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := command(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// command runs one command line and returns the exit code.
func command(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	o, err := parse(args, stderr)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		_, _ = fmt.Fprintln(stderr, "server:", err)
		return exitUsage
	}
	if o.verify {
		err = verify(ctx, o, stdout)
	} else {
		err = serve(ctx, o, stdout, stderr)
	}
	if err != nil {
		_, _ = fmt.Fprintln(stderr, "server:", err)
		return exitFailed
	}
	return exitOK
}

// options are what the command line says.
type options struct {
	verify     bool
	data       string
	listen     string
	demo       bool
	importFile string
}

// defaultListen is on this machine only: the API has no passwords.
const defaultListen = "127.0.0.1:7421"

// parse reads the command line.
func parse(args []string, stderr io.Writer) (options, error) {
	var o options
	name := "server"
	if len(args) > 0 && args[0] == "verify" {
		o.verify, args, name = true, args[1:], "server verify"
	}
	flags := flag.NewFlagSet(name, flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.StringVar(&o.data, "data", "", "the `folder` of the ledger; it is made when it is not there")
	if !o.verify {
		flags.StringVar(&o.listen, "listen", defaultListen, "the `address` to answer on")
		flags.BoolVar(&o.demo, "demo", false, "begin with the demo shop")
		flags.StringVar(&o.importFile, "import", "", "begin with the shop in this `file`, in the format of the demo shop")
	}
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		flags.SetOutput(stderr)
		flags.Usage()
		return o, err
	case err != nil:
		return o, fmt.Errorf("%w; %s -help tells what there is", err, name)
	case flags.NArg() > 0:
		return o, fmt.Errorf("%q is no command; the only one is verify, and it comes first", flags.Arg(0))
	case o.data == "":
		return o, errors.New("say where the ledger is: -data DIR")
	case o.demo && o.importFile != "":
		return o, errors.New("-demo and -import each begin a shop: give one of them")
	}
	return o, nil
}
