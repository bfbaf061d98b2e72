package store

import (
	"context"
	"database/sql"
	"sync"

	"gorm.io/gorm"
)

// keptMost and keptLongest bound the statements that a pool keeps: the house
// has a few hundred, and the inserts of many rows, one text for each number of
// rows, would fill the memory for nothing.
const (
	keptMost    = 1000
	keptLongest = 4 << 10 // bytes of text
)

// prepared is a pool that prepares each statement once for each connection.
// gorm's own cache prepares a statement anew with every use when a transaction
// was the first to need it, which is half of the time of a short read
// (measured); so the cache is ours, and gorm's is off.
type prepared struct {
	db   *sql.DB
	mu   sync.RWMutex
	kept map[string]*sql.Stmt
	// wanted are texts that a transaction was the first to need. They are
	// prepared when it is over: to ask the pool for another connection from
	// within one would wait for ever where there is only one.
	wanted map[string]bool
}

var (
	_ gorm.ConnPool         = (*prepared)(nil)
	_ gorm.ConnPoolBeginner = (*prepared)(nil)
	_ gorm.GetDBConnector   = (*prepared)(nil)
	_ gorm.TxCommitter      = (*preparedTx)(nil)
	_ gorm.GetDBConnector   = (*preparedTx)(nil)
)

func newPrepared(db *sql.DB) *prepared {
	return &prepared{db: db, kept: map[string]*sql.Stmt{}, wanted: map[string]bool{}}
}

// GetDBConn is the pool beneath, for gorm.
func (p *prepared) GetDBConn() (*sql.DB, error) { return p.db, nil }

// PrepareContext is part of gorm.ConnPool; who calls it closes the statement.
func (p *prepared) PrepareContext(ctx context.Context, query string) (*sql.Stmt, error) {
	return p.db.PrepareContext(ctx, query)
}

// ExecContext runs a statement outside a transaction.
func (p *prepared) ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error) {
	st, err := p.statement(ctx, query)
	if st == nil || err != nil {
		return p.db.ExecContext(ctx, query, args...)
	}
	return st.ExecContext(ctx, args...)
}

// QueryContext runs a query outside a transaction.
func (p *prepared) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	st, err := p.statement(ctx, query)
	if st == nil || err != nil {
		return p.db.QueryContext(ctx, query, args...)
	}
	return st.QueryContext(ctx, args...)
}

// QueryRowContext runs a query for one row outside a transaction.
func (p *prepared) QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row {
	st, err := p.statement(ctx, query)
	if st == nil || err != nil {
		return p.db.QueryRowContext(ctx, query, args...)
	}
	return st.QueryRowContext(ctx, args...)
}

// BeginTx begins a transaction that uses what is kept.
func (p *prepared) BeginTx(ctx context.Context, opts *sql.TxOptions) (gorm.ConnPool, error) {
	t, err := p.db.BeginTx(ctx, opts)
	if err != nil {
		return nil, err
	}
	return &preparedTx{pool: p, tx: t, bound: map[*sql.Stmt]*sql.Stmt{}}, nil
}

// known is the kept statement of a text, or nil; worth says whether one that
// is not known should be kept.
func (p *prepared) known(query string) (st *sql.Stmt, worth bool) {
	p.mu.RLock()
	defer p.mu.RUnlock()
	return p.kept[query], len(query) <= keptLongest && len(p.kept) < keptMost
}

// statement is the kept statement of a text, prepared now where it is new;
// nil where the text is not worth keeping.
func (p *prepared) statement(ctx context.Context, query string) (*sql.Stmt, error) {
	if st, worth := p.known(query); st != nil || !worth {
		return st, nil
	}
	st, err := p.db.PrepareContext(ctx, query)
	if err != nil {
		return nil, err
	}
	return p.keep(query, st), nil
}

// keep keeps a statement, unless another was faster or there is no room; then
// it is closed.
func (p *prepared) keep(query string, st *sql.Stmt) *sql.Stmt {
	p.mu.Lock()
	defer p.mu.Unlock()
	if before := p.kept[query]; before != nil || len(p.kept) >= keptMost {
		_ = st.Close() // it was never used
		return before
	}
	p.kept[query] = st
	return st
}

// want asks for a text to be prepared when the transaction is over.
func (p *prepared) want(query string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.wanted[query] = true
}

// settle prepares what transactions wanted. What fails is tried again by the
// next that wants it, and works without.
func (p *prepared) settle(ctx context.Context) {
	p.mu.RLock()
	none := len(p.wanted) == 0
	p.mu.RUnlock()
	if none {
		return
	}
	p.mu.Lock()
	wanted := p.wanted
	p.wanted = map[string]bool{}
	p.mu.Unlock()
	for query := range wanted {
		if _, err := p.statement(ctx, query); err != nil {
			return
		}
	}
}

// preparedTx is a transaction of a prepared pool.
type preparedTx struct {
	pool  *prepared
	tx    *sql.Tx
	bound map[*sql.Stmt]*sql.Stmt // of the pool, to this transaction's connection
}

// GetDBConn is the pool beneath, for gorm.
func (t *preparedTx) GetDBConn() (*sql.DB, error) { return t.pool.db, nil }

// Commit ends the transaction for good.
func (t *preparedTx) Commit() error {
	defer t.pool.settle(context.Background())
	return t.tx.Commit()
}

// Rollback undoes the transaction.
func (t *preparedTx) Rollback() error {
	defer t.pool.settle(context.Background())
	return t.tx.Rollback()
}

// PrepareContext is part of gorm.ConnPool.
func (t *preparedTx) PrepareContext(ctx context.Context, query string) (*sql.Stmt, error) {
	return t.tx.PrepareContext(ctx, query)
}

// statement is the kept statement of a text on this transaction's connection,
// nil where there is none yet.
func (t *preparedTx) statement(ctx context.Context, query string) *sql.Stmt {
	st, worth := t.pool.known(query)
	if st == nil {
		if worth {
			t.pool.want(query)
		}
		return nil
	}
	if t.bound[st] == nil {
		t.bound[st] = t.tx.StmtContext(ctx, st)
	}
	return t.bound[st]
}

// ExecContext runs a statement in the transaction.
func (t *preparedTx) ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error) {
	if st := t.statement(ctx, query); st != nil {
		return st.ExecContext(ctx, args...)
	}
	return t.tx.ExecContext(ctx, query, args...)
}

// QueryContext runs a query in the transaction.
func (t *preparedTx) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	if st := t.statement(ctx, query); st != nil {
		return st.QueryContext(ctx, args...)
	}
	return t.tx.QueryContext(ctx, query, args...)
}

// QueryRowContext runs a query for one row in the transaction.
func (t *preparedTx) QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row {
	if st := t.statement(ctx, query); st != nil {
		return st.QueryRowContext(ctx, args...)
	}
	return t.tx.QueryRowContext(ctx, query, args...)
}
