package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"sync/atomic"
	"time"

	"github.com/google/uuid"

	"servewright/api"
	"servewright/api/page"
	"servewright/api/problem"
	"servewright/domain"
	"servewright/domain/recipe"
	"servewright/openapi"
)

// Limits of one connection. A swap over a whole menu takes milliseconds; what
// is slower than this is a stuck peer.
const (
	headerTimeout  = 5 * time.Second
	readTimeout    = 30 * time.Second
	writeTimeout   = 60 * time.Second
	idleTimeout    = 120 * time.Second
	maxHeaderBytes = 16 << 10
	finishTimeout  = 10 * time.Second // for requests under way at shutdown
)

// serving is what serve was asked to do.
type serving struct {
	addr, db      string
	open, migrate bool
	drain         time.Duration
}

func parseServe(args []string, t terminal) (serving, error) {
	var s serving
	f := newFlags("serve", "", "Serves the API until it is stopped. SIGTERM or Ctrl-C stops it once the requests\nunder way are answered; a second one stops it at once.", t.env)
	f.text(&s.addr, "addr", "SERVEWRIGHT_ADDR", defaultAddr, "listen on this `host:port`")
	f.database(&s.db)
	f.BoolVar(&s.open, "open", false, "listen where other machines can reach it. There are no keys yet: whoever reaches\nthe address can read and change everything")
	f.BoolVar(&s.migrate, "migrate", true, "bring the database to this program's schema first; --migrate=false leaves that\nto servewright migrate")
	f.DurationVar(&s.drain, "drain", 0, "when stopped, answer 503 on /readyz for this `time` (such as 5s) before closing\nthe listener, so that a load balancer looks elsewhere first")
	if err := f.parse(args, t.out); err != nil {
		return s, err
	}
	host, _, err := net.SplitHostPort(s.addr)
	switch {
	case err != nil:
		return s, misuse{fmt.Sprintf("serve: %q is not an address to listen on; write it as %s", s.addr, defaultAddr)}
	case !s.open && !loopback(host):
		return s, misuse{fmt.Sprintf("serve: other machines could reach %s and there are no keys yet; listen on 127.0.0.1, or add --open where something in front checks who calls", s.addr)}
	}
	return s, nil
}

// loopback reports whether only this machine can reach host.
func loopback(host string) bool {
	ip, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && ip.IsLoopback()
}

func runServe(ctx context.Context, args []string, t terminal) error {
	s, err := parseServe(args, t)
	if err != nil {
		return err
	}
	db, store, err := openStore(ctx, s.db, s.migrate)
	if err != nil {
		return err
	}
	defer db.Close()
	l, err := net.Listen("tcp", s.addr)
	if err != nil {
		return fmt.Errorf("%w; choose another address with --addr", err)
	}
	log := slog.New(slog.NewTextHandler(t.err, nil))
	log.Info("serving", "url", "http://"+l.Addr().String(), "docs", "/docs")
	ready := &readiness{Store: store}
	handler := newHandler(ready, log)
	if !s.open {
		handler = localOnly(handler)
	}
	return serveUntil(ctx, l, handler, log, func() {
		ready.stopping.Store(true)
		time.Sleep(s.drain)
	})
}

// serveUntil serves over l until ctx ends, then calls drain, stops taking
// requests and waits for those under way.
func serveUntil(ctx context.Context, l net.Listener, handler http.Handler, log *slog.Logger, drain func()) error {
	srv := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: headerTimeout,
		ReadTimeout:       readTimeout,
		WriteTimeout:      writeTimeout,
		IdleTimeout:       idleTimeout,
		MaxHeaderBytes:    maxHeaderBytes,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- srv.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	log.Info("stopping")
	drain()
	late, cancel := context.WithTimeout(context.Background(), finishTimeout)
	defer cancel()
	if err := srv.Shutdown(late); err != nil {
		return fmt.Errorf("requests under way were cut off after %s: %w", finishTimeout, errors.Join(err, srv.Close()))
	}
	return nil
}

// newHandler is everything the server answers.
func newHandler(store api.Store, log *slog.Logger) http.Handler {
	return api.New(store, log, time.Now, newID, api.WithDocument(openapi.Handler()), api.WithDocs(page.Docs(http.HandlerFunc(noSuchPage))))
}

func noSuchPage(w http.ResponseWriter, _ *http.Request) {
	_ = problem.OfStatus(http.StatusNotFound).Write(w) // the client may have hung up
}

// localOnly refuses requests that call this machine by a foreign name: a web
// page can make a browser send them to a server that only listens here.
func localOnly(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if host := (&url.URL{Host: r.Host}).Hostname(); !loopback(host) {
			doc := problem.OfStatus(http.StatusMisdirectedRequest)
			doc.Detail = "this server answers on its own machine alone; call it 127.0.0.1 or localhost, or start it with --open"
			_ = doc.Write(w) // the client may have hung up
			return
		}
		next.ServeHTTP(w, r)
	})
}

// readiness is a store that says it is not ready while the server stops.
type readiness struct {
	api.Store
	stopping atomic.Bool
}

// Ready answers for GET /readyz.
func (r *readiness) Ready(ctx context.Context) error {
	if r.stopping.Load() {
		return domain.Errorf(domain.Unavailable, "the server is stopping")
	}
	return r.Store.Ready(ctx)
}

// newID makes a UUIDv7. It panics only when the machine has no randomness.
func newID() recipe.ID { return recipe.ID(uuid.Must(uuid.NewV7()).String()) }
