package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"time"

	"coldbay/cmd/coldbay/browserbay"
)

const openUsage = `Usage: coldbay [open] [--addr ADDR] [--port PORT] [--order ID] [--no-open]

Opens the bay in a browser. The bay is served from this machine and needs no
network. Built from source, coldbay first builds the bay with the Go toolchain
(the first time takes a minute or two, later ones a moment); a release carries it.

Options:
  --addr ADDR   address to listen on (default 127.0.0.1: this machine only)
  --port PORT   port to listen on (default 8642; 0 takes any free one)
  --order ID    go straight to this work order
  --no-open     print the address and leave the browser alone

Stop it with Ctrl+C.

Examples:
  coldbay
  coldbay open --port 9000 --no-open
`

func openCommand() command {
	return command{name: "open", summary: "open the bay in a browser (what coldbay does by itself)", usage: openUsage, run: runOpen}
}

// defaultPort is where the bay is found unless told otherwise. It is fixed so that
// what a browser keeps for the address, such as a trainee's saved attempts, is
// found again the next time; the number itself means nothing.
const defaultPort = 8642

// patience is how long open pages may take to finish a download when the program stops.
const patience = 2 * time.Second

func runOpen(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("open")
	addr := flags.String("addr", "127.0.0.1", "")
	port := flags.Int("port", defaultPort, "")
	order := flags.String("order", "", "")
	noOpen := flags.Bool("no-open", false, "")
	if err := flags.none(args); err != nil {
		return err
	}
	if *port < 0 || *port > 65535 {
		return flags.wrong(usagef("port %d is outside 0 to 65535", *port))
	}

	// The port comes first: that it is taken should not be learnt after a build.
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", net.JoinHostPort(*addr, strconv.Itoa(*port)))
	if err != nil {
		return withHint(fmt.Errorf("listen on port %d: %w", *port, err), "choose another port, for example: coldbay --port 0")
	}
	defer listener.Close()

	site, err := p.loadBay(ctx)
	if err != nil {
		if ctx.Err() != nil {
			return nil // stopped by the person while building
		}
		return err
	}
	server := &http.Server{Handler: site, ReadHeaderTimeout: 10 * time.Second}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()

	address := pageAddress(listener.Addr(), *order)
	fmt.Fprintf(p.Stdout, "The bay is open at %s\nStop it with Ctrl+C.\n", address)
	if !*noOpen && p.OpenBrowser != nil {
		if err := p.OpenBrowser(address); err != nil && !errors.Is(err, errNoDisplay) {
			fmt.Fprintf(p.Stderr, "coldbay: hint: open the address yourself (%v)\n", err)
		}
	}

	select {
	case err := <-failed:
		return fmt.Errorf("serve the bay: %w", err)
	case <-ctx.Done():
	}
	ending, cancel := context.WithTimeout(context.WithoutCancel(ctx), patience)
	defer cancel()
	if err := server.Shutdown(ending); err != nil {
		_ = server.Close()
	}
	return nil
}

// loadBay takes the browser bay that this program carries, or builds it.
func (p *Program) loadBay(ctx context.Context) (*browserbay.Site, error) {
	if browserbay.Embedded() {
		return browserbay.FromEmbedded()
	}
	done := p.progress("building the browser bay")
	site, err := browserbay.FromSource(ctx)
	done()
	switch {
	case errors.Is(err, browserbay.ErrNoSource):
		err = withHint(err, "run coldbay inside its source tree, or use a release, which carries the bay")
	case errors.Is(err, browserbay.ErrNoGo):
		err = withHint(err, "install Go, or use a release, which carries the bay")
	}
	return site, err
}

// pageAddress is what a person types to reach the listener from this machine.
func pageAddress(at net.Addr, order string) string {
	host, port, err := net.SplitHostPort(at.String())
	if err != nil {
		host, port = at.String(), "80"
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
	}
	return "http://" + net.JoinHostPort(host, port) + browserbay.PagePath(order)
}
