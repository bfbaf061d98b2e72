package store_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// A full disk is a clear answer; what was under way is undone, and reads and
// later writes go on. SQLite's bound on pages gives the same error as a disk.
func TestAFullDisk(t *testing.T) {
	s := storetest.Open(t, storetest.Folder(t))
	w := newWorld(t, s)
	_, err := s.SQL().ExecContext(ctx, "PRAGMA max_page_count = 1")
	require.NoError(t, err, "the bound is at least what is there")
	fill := func() error {
		return w.InTx(ctx, func(ctx context.Context) error {
			for i := range 1000 {
				e := event(fmt.Sprintf("e%04d", i), "f1", 0)
				e.Data = []byte(`{"note":"` + strings.Repeat("x", 2000) + `"}`)
				if _, err := w.AppendEvents(ctx, e); err != nil {
					return err
				}
			}
			return nil
		})
	}
	err = fill()
	require.Equal(t, "disk-full", domain.CodeOf(err), err)
	require.Equal(t, domain.KindBusy, domain.KindOf(err))
	page, err := w.Events(ctx, "f1", "", 5)
	require.NoError(t, err)
	require.Empty(t, page.Items, "nothing is there by half")
	_, err = s.SQL().ExecContext(ctx, "PRAGMA max_page_count = 1000000")
	require.NoError(t, err)
	require.NoError(t, fill())
}

// The server goes away in the midst of a transaction: the answer is busy,
// nothing is there by half, and the pool finds its way back.
func TestADatabaseThatGoesAway(t *testing.T) {
	db := storetest.Database(t)
	s, other := storetest.Open(t, db), storetest.Open(t, db)
	w := newWorld(t, s)
	err := w.InTx(ctx, func(ctx context.Context) error {
		require.NoError(t, w.AddBranches(ctx, branch("x", "X")))
		_, err := other.SQL().ExecContext(context.Background(),
			"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()")
		require.NoError(t, err)
		return w.AddBranches(ctx, branch("y", "Y"))
	})
	require.Equal(t, domain.KindBusy, domain.KindOf(err), err)
	require.Equal(t, "database-unreachable", domain.CodeOf(err), err)
	all, err := w.Branches(ctx)
	require.NoError(t, err)
	require.Equal(t, []string{"buea", "douala"}, branchIDs(all))
}

func TestARequestThatTakesTooLong(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		past, cancel := context.WithDeadline(ctx, time.Unix(1, 0))
		defer cancel()
		_, err := w.Farms(past, app.Everything, app.FarmQuery{})
		require.Equal(t, domain.KindBusy, domain.KindOf(err), err)
		require.Equal(t, domain.KindBusy, domain.KindOf(w.InTx(past, func(context.Context) error { return nil })))
		gone, stop := context.WithCancel(ctx)
		stop()
		_, err = w.Farms(gone, app.Everything, app.FarmQuery{})
		require.ErrorIs(t, err, context.Canceled, "nobody waits for the answer")
	})
}
