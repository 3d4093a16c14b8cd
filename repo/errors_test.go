package repo

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"
	"testing"

	"github.com/lib/pq"
	"github.com/lib/pq/pqerror"

	"servewright/domain"
)

// TestFailureOfPostgres: the SQLite side is tested on real files in
// trouble_test.go, because its driver's error cannot be made by hand.
func TestFailureOfPostgres(t *testing.T) {
	tests := []struct {
		state string // PostgreSQL documentation, appendix A
		want  domain.Kind
	}{
		{"23505", domain.Conflict},
		{"40001", domain.Busy},
		{"40P01", domain.Busy},
		{"55P03", domain.Busy},
		{"53300", domain.Busy},
		{"53100", domain.Full},
		{"25006", domain.Full},
		{"0A000", domain.Full}, // seen on a PostgreSQL 15 hot standby
		{"57014", domain.Unavailable},
		{"57P01", domain.Unavailable},
		{"57P03", domain.Unavailable},
		{"08006", domain.Unavailable},
		{"08001", domain.Unavailable},
		{"28P01", domain.Unavailable},
		{"3D000", domain.Unavailable},
		{"42601", 0}, // syntax_error: ours to mend
		{"42P01", 0}, // undefined_table
		{"", 0},
	}
	for _, tt := range tests {
		err := failure(fmt.Errorf("in a transaction: %w", &pq.Error{Code: pqerror.Code(tt.state)}), "keep component")
		checkKind(t, "SQLSTATE "+tt.state, err, tt.want)
	}
}

func TestFailureOfConnections(t *testing.T) {
	tests := []struct {
		name string
		err  error
		want domain.Kind
	}{
		{"a dead connection", driver.ErrBadConn, domain.Unavailable},
		{"closed while reading", io.ErrUnexpectedEOF, domain.Unavailable},
		{"refused", &net.OpError{Op: "dial", Err: errors.New("connection refused")}, domain.Unavailable},
		{"no such host", &net.DNSError{Err: "no such host", Name: "db.example"}, domain.Unavailable},
		{"out of time", context.DeadlineExceeded, domain.Unavailable},
		{"a bug", errors.New("sql: expected 3 destination arguments"), 0},
	}
	for _, tt := range tests {
		checkKind(t, tt.name, failure(tt.err, "read"), tt.want)
	}
}

func checkKind(t *testing.T, name string, err error, want domain.Kind) {
	t.Helper()
	var e *domain.Error
	got := domain.Kind(0)
	if errors.As(err, &e) {
		got = e.Kind
		if e.Cause == nil || strings.Contains(e.Error(), "pq:") {
			t.Errorf("%s: %q must keep its cause and not show the driver's words", name, err)
		}
	}
	if got != want {
		t.Errorf("%s: kind %d, want %d (%v)", name, got, want, err)
	}
}

func TestFailurePassesThrough(t *testing.T) {
	own := domain.Errorf(domain.Stale, "an older revision")
	for _, err := range []error{nil, own, context.Canceled, fmt.Errorf("waiting: %w", context.Canceled)} {
		if got := failure(err, "anything"); got != err {
			t.Errorf("failure(%v) = %v, want it unchanged", err, got)
		}
	}
}

func TestRetryable(t *testing.T) {
	for state, want := range map[string]bool{"40001": true, "40P01": true, "23505": false, "08006": false} {
		if got := retryable(fmt.Errorf("commit: %w", &pq.Error{Code: pqerror.Code(state)})); got != want {
			t.Errorf("retryable(%s) = %v, want %v", state, got, want)
		}
	}
}
