// Command server keeps a shop's ledger and answers its API over gRPC.
//
//	go run ./server -data DIR [-listen ADDR] [-demo | -import SHOP]
//	go run ./server verify -data DIR
//	go run ./server export -data DIR -out FOLDER [-format json|csv]
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

	"bayword/internal/shopfile"
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
	switch o.command {
	case verifying:
		err = verify(ctx, o, stdout)
	case exporting:
		err = export(ctx, o, stdout)
	default:
		err = serve(ctx, o, stdout, stderr)
	}
	if err != nil {
		_, _ = fmt.Fprintln(stderr, "server:", err)
		return exitFailed
	}
	return exitOK
}

// Commands that come first on the command line; none means to serve.
const (
	verifying = "verify"
	exporting = "export"
)

// options are what the command line says.
type options struct {
	command    string
	data       string
	listen     string
	demo       bool
	importFile string // or folder
	out        string
	format     shopfile.Format
}

// defaultListen is on this machine only: the API has no passwords.
const defaultListen = "127.0.0.1:7421"

// parse reads the command line.
func parse(args []string, stderr io.Writer) (options, error) {
	var o options
	name := "server"
	if len(args) > 0 && (args[0] == verifying || args[0] == exporting) {
		o.command, args, name = args[0], args[1:], "server "+args[0]
	}
	flags := flag.NewFlagSet(name, flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.StringVar(&o.data, "data", "", "the `folder` of the ledger; it is made when it is not there")
	format := string(shopfile.JSON)
	switch o.command {
	case exporting:
		flags.StringVar(&o.out, "out", "", "the `folder` to write into; it is made when it is not there")
		flags.StringVar(&format, "format", format, "`json or csv`")
	case "":
		flags.StringVar(&o.listen, "listen", defaultListen, "the `address` to answer on")
		flags.BoolVar(&o.demo, "demo", false, "begin with the demo shop")
		flags.StringVar(&o.importFile, "import", "", "begin with this `shop`: a file in the format of the demo shop, or a folder that export wrote")
	}
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		flags.SetOutput(stderr)
		flags.Usage()
		return o, err
	case err != nil:
		return o, fmt.Errorf("%w; %s -help tells what there is", err, name)
	case flags.NArg() > 0:
		return o, fmt.Errorf("%q is no command; there are verify and export, and they come first", flags.Arg(0))
	case o.data == "":
		return o, errors.New("say where the ledger is: -data DIR")
	case o.demo && o.importFile != "":
		return o, errors.New("-demo and -import each begin a shop: give one of them")
	case o.command == exporting && o.out == "":
		return o, errors.New("say where to write: -out FOLDER")
	}
	var err error
	o.format, err = shopfile.ParseFormat(format)
	return o, err
}
