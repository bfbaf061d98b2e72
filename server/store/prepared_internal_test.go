package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"gorm.io/driver/sqlite"
)

// onePool is a pool of one connection, as SQLite's writer has it: whoever asks
// it for a second one from within a transaction waits for ever.
func onePool(t *testing.T) *prepared {
	t.Helper()
	db, err := sql.Open(sqlite.DriverName, filepath.Join(t.TempDir(), "x.db"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	db.SetMaxOpenConns(1)
	_, err = db.ExecContext(context.Background(), "CREATE TABLE n (v INTEGER)")
	require.NoError(t, err)
	return newPrepared(db)
}

func inTx(t *testing.T, p *prepared, fn func(tx *preparedTx) error) error {
	t.Helper()
	pool, err := p.BeginTx(context.Background(), nil)
	require.NoError(t, err)
	tx := pool.(*preparedTx)
	if err := fn(tx); err != nil {
		require.NoError(t, tx.Rollback())
		return err
	}
	return tx.Commit()
}

func add(tx *preparedTx, v int) error {
	_, err := tx.ExecContext(context.Background(), "INSERT INTO n VALUES (?)", v)
	return err
}

func sum(t *testing.T, p *prepared) int {
	t.Helper()
	var n int
	require.NoError(t, p.QueryRowContext(context.Background(), "SELECT COALESCE(SUM(v), 0) FROM n").Scan(&n))
	return n
}

func TestAStatementThatATransactionNeededFirstIsKeptAfterIt(t *testing.T) {
	p := onePool(t)
	const insert = "INSERT INTO n VALUES (?)"
	for i := range 3 {
		require.NoError(t, inTx(t, p, func(tx *preparedTx) error {
			st, _ := p.known(insert) //nolint:sqlclosecheck // the pool keeps it
			require.Equal(t, i > 0, st != nil, "kept from the second transaction on")
			return errors.Join(add(tx, 1), add(tx, 10))
		}))
	}
	require.Equal(t, 33, sum(t, p))
	failed := errors.New("no")
	require.ErrorIs(t, inTx(t, p, func(tx *preparedTx) error { return errors.Join(add(tx, 500), failed) }), failed)
	require.Equal(t, 33, sum(t, p), "undone, kept statement or not")
}

func TestAStatementIsKeptAfterATransactionThatFailed(t *testing.T) {
	p := onePool(t)
	failed := errors.New("no")
	require.ErrorIs(t, inTx(t, p, func(tx *preparedTx) error { return errors.Join(add(tx, 1), failed) }), failed)
	st, _ := p.known("INSERT INTO n VALUES (?)")
	require.NotNil(t, st)
}

func TestAWrongStatementIsAnErrorAndNotKept(t *testing.T) {
	p := onePool(t)
	_, err := p.ExecContext(context.Background(), "INSERT INTO nowhere VALUES (1)")
	require.ErrorContains(t, err, "nowhere")
	require.ErrorContains(t, inTx(t, p, func(tx *preparedTx) error {
		_, err := tx.ExecContext(context.Background(), "INSERT INTO nowhere VALUES (1)")
		return err
	}), "nowhere")
	require.Empty(t, p.kept)
}

func TestWhatIsKeptIsBounded(t *testing.T) {
	p := onePool(t)
	ctx := context.Background()
	var n int
	long := "SELECT 1 /*" + strings.Repeat("x", keptLongest) + "*/"
	require.NoError(t, p.QueryRowContext(ctx, long).Scan(&n))
	require.Empty(t, p.kept, "too long")
	for i := range keptMost + 50 {
		require.NoError(t, p.QueryRowContext(ctx, fmt.Sprintf("SELECT %d", i)).Scan(&n))
		require.Equal(t, i, n)
	}
	require.Len(t, p.kept, keptMost)
	require.NoError(t, inTx(t, p, func(tx *preparedTx) error { return add(tx, 7) }))
	require.Len(t, p.kept, keptMost)
	require.Empty(t, p.wanted)
	require.Equal(t, 7, sum(t, p))
}

func TestManyAtOnceShareOneStatement(t *testing.T) {
	p := onePool(t)
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() {
			for range 10 {
				pool, err := p.BeginTx(context.Background(), nil)
				if err != nil {
					t.Error(err)
					return
				}
				tx := pool.(*preparedTx)
				if err := errors.Join(add(tx, 1), tx.Commit()); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	require.Equal(t, 200, sum(t, p))
	require.Len(t, p.kept, 2, "the insert and the sum")
}

func TestNumberedMarks(t *testing.T) {
	require.Equal(t, "SELECT a FROM t WHERE b = $1 AND c IN ($2, $3)", numbered("SELECT a FROM t WHERE b = ? AND c IN (?, ?)"))
	require.Equal(t, "SELECT 1", numbered("SELECT 1"))
}

// The columns of embedded rows stay apart though they bear the same names.
func TestColumnsOfEmbeddedRows(t *testing.T) {
	farms, clients, branches := columnsFor[farmRow]().names, columnsFor[clientRow]().names, columnsFor[branchRow]().names
	require.Equal(t, append(append(append([]string{}, farms...), clients...), branches...), columnsFor[pageLine]().names)
	var line pageLine
	into := columnsFor[pageLine]().into(&line)
	*into[0].(*string), *into[len(farms)].(*string) = "f", "c"
	require.Equal(t, []string{"f", "c"}, []string{line.Farm.ID, line.Client.ID})
}
