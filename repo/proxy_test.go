package repo_test

import (
	"io"
	"net"
	"sync"
	"testing"
)

// proxy passes connections on and can stop passing anything, as a network does
// when a cable is pulled: nothing is closed, nothing comes.
type proxy struct {
	listener net.Listener
	target   string

	mu      sync.Mutex
	stalled chan struct{} // closed when things flow
	conns   []net.Conn
}

func startProxy(t *testing.T, target string) *proxy {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	flowing := make(chan struct{})
	close(flowing)
	p := &proxy{listener: l, target: target, stalled: flowing}
	t.Cleanup(func() {
		l.Close()
		p.flow()
		p.mu.Lock()
		defer p.mu.Unlock()
		for _, c := range p.conns {
			c.Close()
		}
	})
	go p.serve()
	return p
}

func (p *proxy) addr() string { return p.listener.Addr().String() }

func (p *proxy) serve() {
	for {
		in, err := p.listener.Accept()
		if err != nil {
			return
		}
		out, err := net.Dial("tcp", p.target)
		if err != nil {
			in.Close()
			continue
		}
		p.mu.Lock()
		p.conns = append(p.conns, in, out)
		p.mu.Unlock()
		go p.pass(in, out)
		go p.pass(out, in)
	}
}

func (p *proxy) pass(from, to net.Conn) {
	defer to.Close()
	buf := make([]byte, 32<<10)
	for {
		n, err := from.Read(buf)
		p.mu.Lock()
		gate := p.stalled
		p.mu.Unlock()
		<-gate
		if n > 0 {
			if _, err := to.Write(buf[:n]); err != nil {
				return
			}
		}
		if err != nil {
			if err != io.EOF {
				from.Close()
			}
			return
		}
	}
}

// stall holds everything back until flow.
func (p *proxy) stall() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.stalled = make(chan struct{})
}

func (p *proxy) flow() {
	p.mu.Lock()
	defer p.mu.Unlock()
	select {
	case <-p.stalled:
	default:
		close(p.stalled)
	}
}
