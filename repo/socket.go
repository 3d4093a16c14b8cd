package repo

import (
	"context"
	"database/sql/driver"
	"net"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"
)

// silence is the longest that a connection waits for its server when no
// request sets an end: longer than any statement may take there.
const silence = 35 * time.Second

// grace is what a request's last wait may take beyond its deadline, so that the
// server has the time to say that it stopped.
const grace = 100 * time.Millisecond

// sockets finds the network side of the driver's connections.
var sockets sync.Map // driver.Conn → *socket

// socket is the network side of a PostgreSQL connection, on which no wait is
// endless. The driver does not look at the context while it begins a
// transaction, and tells the server of an end elsewhere but then waits for its
// answer. A server that went silent would hold a request and its connection
// until TCP gives up, after many minutes.
type socket struct {
	net.Conn
	owner  driver.Conn               // nil while signing in, when the driver sets deadlines
	signIn time.Time                 // the end of the request that wants to sign in; zero = none
	until  atomic.Pointer[time.Time] // of the request that has the connection
}

// SetDeadline is for the driver while it signs in. It does not look at the
// context then either.
func (s *socket) SetDeadline(at time.Time) error {
	if !s.signIn.IsZero() && (at.IsZero() || at.After(s.signIn)) {
		at = s.signIn
	}
	return s.Conn.SetDeadline(at)
}

// Read waits no longer than the request may.
func (s *socket) Read(b []byte) (int, error) {
	if s.owner != nil {
		s.Conn.SetReadDeadline(s.end())
	}
	return s.Conn.Read(b)
}

// Write waits no longer than the request may.
func (s *socket) Write(b []byte) (int, error) {
	if s.owner != nil {
		s.Conn.SetWriteDeadline(s.end())
	}
	return s.Conn.Write(b)
}

// Close forgets the socket too.
func (s *socket) Close() error {
	sockets.Delete(s.owner)
	return s.Conn.Close()
}

func (s *socket) end() time.Time {
	if at := s.until.Load(); at != nil {
		return *at
	}
	return time.Now().Add(silence)
}

// limit ends every wait on a connection shortly after ctx's deadline, until
// the function it returns is called. Other drivers' connections have no socket.
func limit(ctx context.Context, conn *sqlx.Conn) (release func(), err error) {
	release = func() {}
	at, ok := ctx.Deadline()
	if !ok {
		return release, nil
	}
	at = at.Add(grace)
	err = conn.Raw(func(dc any) error {
		if found, ok := sockets.Load(dc); ok {
			s := found.(*socket)
			s.until.Store(&at)
			release = func() { s.until.Store(nil) }
		}
		return nil
	})
	return release, err
}

// connector makes connections on sockets.
type connector struct{ *pq.Connector }

// dialled is the key under which a connection under way finds its socket in a
// context.
type dialled struct{}

// Connect signs in.
func (c connector) Connect(ctx context.Context) (driver.Conn, error) {
	var s socket
	s.signIn, _ = ctx.Deadline()
	conn, err := c.Connector.Connect(context.WithValue(ctx, dialled{}, &s))
	if err == nil {
		s.owner = conn
		sockets.Store(conn, &s)
	}
	return conn, err
}

// dialer makes sockets.
type dialer struct{}

// DialContext makes the socket of a connection under way, or a plain
// connection when the driver wants one to cancel a statement.
func (dialer) DialContext(ctx context.Context, network, address string) (net.Conn, error) {
	var d net.Dialer
	conn, err := d.DialContext(ctx, network, address)
	s, ok := ctx.Value(dialled{}).(*socket)
	if err != nil || !ok {
		return conn, err
	}
	s.Conn = conn
	return s, nil
}

// Dial and DialTimeout are for drivers without contexts.
func (dialer) Dial(network, address string) (net.Conn, error) { return net.Dial(network, address) }

// DialTimeout is Dial with an end.
func (dialer) DialTimeout(network, address string, timeout time.Duration) (net.Conn, error) {
	return net.DialTimeout(network, address, timeout)
}
