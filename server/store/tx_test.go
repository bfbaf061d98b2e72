package store_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestInTxKeepsAllOrNothing(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		boom := errors.New("boom")
		add := func(ctx context.Context, id string) error { return s.AddBranches(ctx, branch(id, id)) }
		names := func() []string {
			all, err := s.Branches(ctx)
			require.NoError(t, err)
			return ids(all, func(b farm.Branch) string { return b.ID })
		}

		require.ErrorIs(t, s.InTx(ctx, func(ctx context.Context) error {
			require.NoError(t, add(ctx, "a"))
			_, err := s.Branch(ctx, "a")
			require.NoError(t, err, "a transaction reads its own writes")
			return boom
		}), boom)
		require.Empty(t, names(), "an error undoes all")

		require.PanicsWithValue(t, "out", func() {
			_ = s.InTx(ctx, func(ctx context.Context) error {
				require.NoError(t, add(ctx, "a"))
				panic("out")
			})
		})
		require.Empty(t, names(), "a panic undoes all")

		require.ErrorIs(t, s.InTx(ctx, func(ctx context.Context) error {
			require.NoError(t, s.InTx(ctx, func(ctx context.Context) error { return add(ctx, "a") }))
			return boom
		}), boom)
		require.Empty(t, names(), "a nested transaction is part of the outer one")

		require.NoError(t, s.InTx(ctx, func(ctx context.Context) error {
			return errors.Join(add(ctx, "a"), s.InTx(ctx, func(ctx context.Context) error { return add(ctx, "b") }))
		}))
		require.Equal(t, []string{"a", "b"}, names())
	})
}

func TestATryIsUndoneAlone(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		boom := errors.New("boom")
		add := func(ctx context.Context, id string) error { return s.AddBranches(ctx, branch(id, id)) }
		require.NoError(t, s.InTx(ctx, func(ctx context.Context) error {
			require.NoError(t, add(ctx, "a"))
			require.ErrorIs(t, s.Try(ctx, func(ctx context.Context) error { return errors.Join(add(ctx, "b"), boom) }), boom)
			require.Error(t, s.Try(ctx, func(ctx context.Context) error { return add(ctx, "a") }), "a refused row, too")
			return s.Try(ctx, func(ctx context.Context) error { return add(ctx, "c") })
		}))
		require.NoError(t, s.Try(ctx, func(ctx context.Context) error { return add(ctx, "d") }), "alone it is a transaction")
		all, err := s.Branches(ctx)
		require.NoError(t, err)
		require.Equal(t, []string{"a", "c", "d"}, ids(all, func(b farm.Branch) string { return b.ID }))
	})
}

func TestATransactionThatIsCancelledIsUndone(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		c, cancel := context.WithCancel(ctx)
		err := s.InTx(c, func(ctx context.Context) error {
			require.NoError(t, s.AddBranches(ctx, branch("a", "A")))
			cancel()
			return nil
		})
		require.Error(t, err, "a commit that fails says so")
		_, err = s.Branch(ctx, "a")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err))
		require.NoError(t, s.AddBranches(ctx, branch("a", "A")), "the connection is whole again")
	})
}

func TestSQLTxIsTheSameTransaction(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		_, err := s.SQLTx(ctx)
		require.Equal(t, "no-transaction", domain.CodeOf(err))
		boom := errors.New("boom")
		require.ErrorIs(t, s.InTx(ctx, func(ctx context.Context) error {
			tx, err := s.SQLTx(ctx)
			require.NoError(t, err)
			_, err = tx.ExecContext(ctx, "INSERT INTO ticket_numbers (year, last) VALUES (1999, 7)")
			require.NoError(t, err)
			return boom
		}), boom)
		var n int
		require.NoError(t, s.SQL().QueryRowContext(ctx, "SELECT COUNT(*) FROM ticket_numbers").Scan(&n))
		require.Zero(t, n)
	})
}

// Sixteen writers read a number, add one and write it: every one of them
// counts, and none is refused as long as the busy time allows.
func TestSixteenWriters(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		const writers, rounds = 16, 8
		var all sync.WaitGroup
		errs := make([]error, writers)
		for i := range writers {
			all.Go(func() {
				for range rounds {
					errs[i] = errors.Join(errs[i], w.InTx(ctx, func(ctx context.Context) error {
						if err := w.CountChange(ctx, "f1"); err != nil { // takes the farm's row first
							return err
						}
						u, err := w.Unit(ctx, app.Everything, "u1")
						if err != nil {
							return err
						}
						u.Build.Capacity++
						return w.ChangeUnit(ctx, u)
					}))
				}
			})
		}
		all.Wait()
		require.NoError(t, errors.Join(errs...))
		u, err := w.Unit(ctx, app.Everything, "u1")
		require.NoError(t, err)
		require.Equal(t, 2000+writers*rounds, u.Build.Capacity)
		require.Equal(t, 1+writers*rounds, u.Version)
	})
}

// Of sixteen who change the same version, one wins.
func TestOneOfSixteenWins(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		const writers = 16
		var all sync.WaitGroup
		errs := make([]error, writers)
		for i := range writers {
			all.Go(func() {
				u := unit("u1", "f1")
				u.Build.Capacity = i
				errs[i] = w.ChangeUnit(ctx, u)
			})
		}
		all.Wait()
		won := 0
		for _, err := range errs {
			if err == nil {
				won++
				continue
			}
			require.Equal(t, domain.KindStale, domain.KindOf(err))
		}
		require.Equal(t, 1, won)
	})
}

// On PostgreSQL a transaction that lost against another one is run again
// from its start.
func TestALostRaceIsRunAgain(t *testing.T) {
	s := storetest.Open(t, storetest.Database(t))
	w := newWorld(t, s)
	meet := make(chan struct{})
	var once sync.Once
	runs := make([]int, 2)
	both := sync.WaitGroup{}
	both.Add(2)
	cross := func(i int, first, second string) error {
		return w.InTx(ctx, func(ctx context.Context) error {
			runs[i]++
			if err := w.CountChange(ctx, first); err != nil {
				return err
			}
			if runs[i] == 1 {
				both.Done()
				once.Do(func() { go func() { both.Wait(); close(meet) }() })
				<-meet // now each holds what the other wants
			}
			return w.CountChange(ctx, second)
		})
	}
	var all sync.WaitGroup
	errs := make([]error, 2)
	all.Go(func() { errs[0] = cross(0, "f1", "f2") })
	all.Go(func() { errs[1] = cross(1, "f2", "f1") })
	all.Wait()
	require.NoError(t, errors.Join(errs...))
	require.Greater(t, runs[0]+runs[1], 2, "one of the two ran again")
}

// Another process holds the write lock: the answer is busy, after the time
// that was set and not at once.
func TestAWriteThatWaitsTooLongIsBusy(t *testing.T) {
	dir := storetest.Folder(t)
	holder := storetest.Open(t, dir)
	waiter, err := store.Open(ctx, store.Config{DB: dir, Busy: 50 * time.Millisecond})
	require.NoError(t, err)
	defer func() { require.NoError(t, waiter.Close()) }()
	require.NoError(t, holder.InTx(ctx, func(ctx context.Context) error {
		require.NoError(t, holder.AddBranches(ctx, branch("a", "A")))
		err := waiter.AddBranches(context.Background(), branch("b", "B"))
		require.Equal(t, domain.KindBusy, domain.KindOf(err), err)
		_, err = waiter.Branches(context.Background())
		require.NoError(t, err, "reads go on")
		return nil
	}))
	require.NoError(t, waiter.AddBranches(ctx, branch("b", "B")))
}

func TestTextsThatCannotBeStored(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		for _, bad := range []string{"a\x00b", "a\xffb"} {
			require.Equal(t, domain.KindInvalid, domain.KindOf(w.AddBranches(ctx, branch("x", bad))), "%q", bad)
			u := unit("u1", "f1")
			u.Build.Cover = bad
			require.Equal(t, domain.KindInvalid, domain.KindOf(w.ChangeUnit(ctx, u)), "%q", bad)
		}
	})
}
