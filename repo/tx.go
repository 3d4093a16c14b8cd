package repo

import (
	"context"
	"database/sql"
	"errors"
	"math/rand/v2"
	"sync"
	"time"

	"github.com/jmoiron/sqlx"

	"servewright/domain"
)

// pool is connections that are set up alike, with the statements prepared on
// them.
type pool struct {
	*sqlx.DB
	mu       sync.Mutex
	prepared map[string]*sqlx.Stmt
}

// prepare makes the statements of this package ready. It must not run inside a
// transaction: a pool of one connection would wait for itself.
func (p *pool) prepare(ctx context.Context, queries []string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.prepared != nil {
		return nil
	}
	stmts := make(map[string]*sqlx.Stmt, len(queries))
	for _, q := range queries {
		st, err := p.PreparexContext(ctx, q)
		if err != nil {
			for _, made := range stmts {
				made.Close()
			}
			return err
		}
		stmts[q] = st
	}
	p.prepared = stmts
	return nil
}

// tx is a transaction on behalf of one org.
type tx struct {
	*sqlx.Tx
	pool *pool
}

func (t *tx) stmt(ctx context.Context, query string) (*sqlx.Stmt, error) {
	if st, ok := t.pool.prepared[query]; ok {
		return t.StmtxContext(ctx, st), nil
	}
	return t.PreparexContext(ctx, query)
}

// get reads one row; sql.ErrNoRows when there is none.
func (t *tx) get(ctx context.Context, row any, query string, args ...any) error {
	st, err := t.stmt(ctx, query)
	if err != nil {
		return err
	}
	return st.GetContext(ctx, row, args...)
}

// list reads all rows.
func (t *tx) list(ctx context.Context, rows any, query string, args ...any) error {
	st, err := t.stmt(ctx, query)
	if err != nil {
		return err
	}
	return st.SelectContext(ctx, rows, args...)
}

// do runs a statement that answers no rows.
func (t *tx) do(ctx context.Context, query string, args ...any) error {
	st, err := t.stmt(ctx, query)
	if err != nil {
		return err
	}
	_, err = st.ExecContext(ctx, args...)
	return err
}

// look runs fn in a transaction that only reads.
func (s *Store) look(ctx context.Context, what string, fn func(*tx) error) error {
	return s.again(ctx, what, s.db.read, &sql.TxOptions{ReadOnly: true}, fn)
}

// change runs fn in a transaction that may write.
func (s *Store) change(ctx context.Context, what string, fn func(*tx) error) error {
	return s.again(ctx, what, s.db.write, &sql.TxOptions{}, fn)
}

// again runs fn in a transaction, and in another when the database asks for
// that. So fn must do nothing but read and write through its transaction.
func (s *Store) again(ctx context.Context, what string, p *pool, opts *sql.TxOptions, fn func(*tx) error) error {
	const tries = 8
	pause := 2 * time.Millisecond
	for try := 1; ; try++ {
		err := s.inTx(ctx, p, opts, fn)
		if !retryable(err) || try == tries {
			return failure(err, what)
		}
		select {
		case <-ctx.Done():
			return failure(ctx.Err(), what)
		case <-time.After(pause + rand.N(pause)):
			pause *= 2
		}
	}
}

// inTx runs fn in one transaction of the store's org and commits it unless fn
// or ctx says otherwise. A cancelled ctx stops statements but never a COMMIT
// under way, whose outcome nobody would know; a deadline stops both.
func (s *Store) inTx(ctx context.Context, p *pool, opts *sql.TxOptions, fn func(*tx) error) error {
	ctx, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	at, _ := ctx.Deadline()
	uncancelled, stop := context.WithDeadline(context.WithoutCancel(ctx), at)
	defer stop()
	if err := p.prepare(ctx, queries); err != nil {
		return err
	}
	var begun *sqlx.Tx
	release, err := p.take(ctx, func(conn *sqlx.Conn) (err error) {
		begun, err = conn.BeginTxx(uncancelled, opts)
		return err
	})
	if err != nil {
		return err
	}
	defer release()
	defer begun.Rollback() // does nothing after a commit
	t := &tx{Tx: begun, pool: p}
	if s.db.engine.enter != "" {
		if err := t.do(ctx, s.db.engine.enter, s.org); err != nil {
			return err
		}
	}
	if err := fn(t); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return t.Commit()
}

// take takes a connection and does first on it, which must be harmless to
// repeat: connections that died in the pool, as all do when a server restarts,
// are passed over. release gives the connection back.
func (p *pool) take(ctx context.Context, first func(*sqlx.Conn) error) (release func(), err error) {
	for dead := 0; ; dead++ {
		conn, err := p.Connx(ctx)
		if err != nil {
			return nil, err
		}
		unlimit, err := limit(ctx, conn)
		if err == nil {
			err = first(conn)
		}
		if err == nil {
			return func() { unlimit(); conn.Close() }, nil
		}
		unlimit()
		conn.Close()
		if kindOf(err) != domain.Unavailable || dead == postgresConns || ctx.Err() != nil {
			return nil, err
		}
	}
}

// none turns sql.ErrNoRows into domain.NotFound.
func none(err error, format string, args ...any) error {
	if errors.Is(err, sql.ErrNoRows) {
		return domain.Errorf(domain.NotFound, format, args...)
	}
	return err
}
