package store_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app/signin"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestAPasswordIsOnePersonsAndOneNames(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		newWorld(t, s)
		p := signin.Password{PersonID: "ana", Login: "ana@palmwalk.example", Hash: "h", Short: true, TOTP: "t", TOTPPending: "p", TOTPStep: 7, ChangedAt: now}
		require.NoError(t, s.PutPassword(ctx, p))
		got, err := s.PasswordByLogin(ctx, p.Login)
		require.NoError(t, err)
		require.Equal(t, p, got)

		p.Hash, p.Short, p.TOTP, p.TOTPPending, p.TOTPStep = "h2", false, "", "", 0
		require.NoError(t, s.PutPassword(ctx, p))
		require.NoError(t, s.InTx(ctx, func(ctx context.Context) error {
			got, err := s.LockPassword(ctx, "ana")
			require.Equal(t, p, got)
			return err
		}))
		err = s.PutPassword(ctx, signin.Password{PersonID: "mo", Login: p.Login, Hash: "h", ChangedAt: now})
		require.Equal(t, "login-exists", domain.CodeOf(err))
		_, err = s.PasswordByLogin(ctx, "nobody")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err))
		_, err = s.LockPassword(ctx, "mo")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err))
	})
}

func TestAnEnrolmentIsFoundWhileItIsGood(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		newWorld(t, s)
		e := signin.Enrolment{
			ID: "e1", PersonID: "care", Purpose: signin.ForPhone, Kind: signin.ByCode, Handle: "ACD", Secret: "s1",
			MadeBy: "ana", MadeAt: now, ExpiresAt: now.Add(time.Minute),
		}
		require.NoError(t, s.AddEnrolment(ctx, e))
		got, err := s.LockEnrolment(ctx, signin.ByHandle, "ACD")
		require.NoError(t, err)
		require.Equal(t, e, got)
		got, err = s.LockEnrolment(ctx, signin.BySecret, "s1")
		require.NoError(t, err)
		require.Equal(t, e, got)

		twin := e
		twin.ID, twin.Secret = "e2", "s2"
		require.Equal(t, domain.KindConflict, domain.KindOf(s.AddEnrolment(ctx, twin)), "two codes never share a handle")
		link := e
		link.ID, link.Secret, link.Handle, link.Kind = "e3", "s3", "", signin.ByLink
		require.NoError(t, s.AddEnrolment(ctx, link))
		_, err = s.LockEnrolment(ctx, signin.ByHandle, "")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err), "links have no handle to be found by")

		e.Failures, e.SpentAt, e.DeviceID = 2, now, "d1"
		require.NoError(t, s.PutEnrolment(ctx, e))
		require.NoError(t, s.VoidEnrolments(ctx, "care", signin.ForPhone, now.Add(time.Second)))
		got, err = s.LockEnrolment(ctx, signin.BySecret, "s1")
		require.NoError(t, err)
		require.Equal(t, e, got, "what was spent stays as it was")
		got, err = s.LockEnrolment(ctx, signin.BySecret, "s3")
		require.NoError(t, err)
		require.Equal(t, now.Add(time.Second), got.SpentAt)
		require.Equal(t, domain.KindNotFound, domain.KindOf(s.PutEnrolment(ctx, signin.Enrolment{ID: "none"})))
	})
}

func TestABearerIsAllThatARequestNeeds(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		newWorld(t, s)
		d := signin.Device{ID: "d1", PersonID: "care", Name: "phone", PublicKey: "{}", EnrolledAt: now, SeenAt: now}
		require.NoError(t, s.AddDevice(ctx, d))
		desk := signin.Session{ID: "s1", PersonID: "ana", Generation: 1, RotatedAt: now, StartedAt: now, ExpiresAt: now.Add(time.Hour), Agent: "a"}
		phone := signin.Session{ID: "s2", PersonID: "care", DeviceID: "d1", Generation: 4, RotatedAt: now, StartedAt: now, ExpiresAt: now.Add(time.Hour)}
		require.NoError(t, s.AddSession(ctx, desk))
		require.NoError(t, s.AddSession(ctx, phone))

		b, err := s.Bearer(ctx, "s1")
		require.NoError(t, err)
		require.Equal(t, desk, b.Session)
		require.Equal(t, "Ana Étoile", b.Person.Name)
		require.True(t, b.Person.Active)
		require.Equal(t, []farm.Grant{{Role: farm.Advisor, BranchID: "buea"}}, b.Person.Grants)
		require.False(t, b.DeviceRevoked)

		b, err = s.Bearer(ctx, "s2")
		require.NoError(t, err)
		require.Equal(t, phone, b.Session)
		require.False(t, b.DeviceRevoked)
		d.RevokedAt, d.Failures = now, 3
		require.NoError(t, s.PutDevice(ctx, d))
		b, err = s.Bearer(ctx, "s2")
		require.NoError(t, err)
		require.True(t, b.DeviceRevoked)
		got, err := s.Devices(ctx, "care")
		require.NoError(t, err)
		require.Equal(t, []signin.Device{d}, got)

		_, err = s.Bearer(ctx, "none")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err))
	})
}

func TestEndSessionsEndsWhatItPicks(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		newWorld(t, s)
		for _, x := range []signin.Session{
			{ID: "a1", PersonID: "ana"}, {ID: "a2", PersonID: "ana"}, {ID: "a3", PersonID: "ana", DeviceID: "d1"}, {ID: "m1", PersonID: "mo"},
		} {
			x.StartedAt, x.RotatedAt, x.ExpiresAt = now, now, now.Add(time.Hour)
			require.NoError(t, s.AddSession(ctx, x))
		}
		end := func(f signin.EndFilter, want int) {
			t.Helper()
			n, err := s.EndSessions(ctx, f, "test", now)
			require.NoError(t, err)
			require.Equal(t, want, n)
		}
		end(signin.EndFilter{}, 0)
		end(signin.EndFilter{Keep: "a1"}, 0)
		end(signin.EndFilter{ID: "m1", PersonID: "ana"}, 0)
		end(signin.EndFilter{DeviceID: "d1"}, 1)
		end(signin.EndFilter{PersonID: "ana", Keep: "a2"}, 1)
		live, err := s.Sessions(ctx, "ana", now)
		require.NoError(t, err)
		require.Len(t, live, 1)
		require.Equal(t, "a2", live[0].ID)
		live, err = s.Sessions(ctx, "ana", now.Add(time.Hour))
		require.NoError(t, err)
		require.Empty(t, live, "it ran out")
		end(signin.EndFilter{ID: "a2"}, 1)
		end(signin.EndFilter{ID: "a2"}, 0)
	})
}

func TestANonceIsSpentByOneOfMany(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		firsts := make([]bool, 16)
		errs := make([]error, len(firsts))
		var all sync.WaitGroup
		for i := range firsts {
			all.Go(func() { firsts[i], errs[i] = s.SpendNonce(ctx, "n1", now) })
		}
		all.Wait()
		count := 0
		for i := range firsts {
			require.NoError(t, errs[i])
			if firsts[i] {
				count++
			}
		}
		require.Equal(t, 1, count)
	})
}

// Sixteen at once add sixteen: no count gets lost between reading and writing.
func TestTriesAtOnceAreAllCounted(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		var all sync.WaitGroup
		errs := make([]error, 16)
		for i := range errs {
			all.Go(func() {
				errs[i] = s.InTx(ctx, func(ctx context.Context) error {
					c, err := s.LockTries(ctx, "x", now)
					if err != nil {
						return err
					}
					c.Failures++
					c.NotBefore, c.SeenAt = now.Add(time.Second), now
					return s.PutTries(ctx, c)
				})
			})
		}
		all.Wait()
		for _, err := range errs {
			require.NoError(t, err)
		}
		c, err := s.LockTries(ctx, "x", now)
		require.NoError(t, err)
		require.Equal(t, signin.Tries{Scope: "x", Failures: 16, NotBefore: now.Add(time.Second), SeenAt: now}, c)
		require.NoError(t, s.DropTries(ctx, "x"))
		c, err = s.LockTries(ctx, "x", now)
		require.NoError(t, err)
		require.Zero(t, c.Failures)
	})
}

func TestKeysAreNotedOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		for range 2 {
			kids, err := s.NoteKeys(ctx, []string{"k1", "k2"}, now)
			require.NoError(t, err)
			require.Equal(t, []string{"k1", "k2"}, kids)
		}
		kids, err := s.NoteKeys(ctx, []string{"k0"}, now.Add(time.Hour))
		require.NoError(t, err)
		require.Equal(t, []string{"k1", "k2", "k0"}, kids)
	})
}

func TestPurgeSignInTakesWhatIsOldAndLeavesTheRest(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		newWorld(t, s)
		old, fresh := now.Add(-time.Hour), now.Add(time.Hour)
		for id, x := range map[string]signin.Session{
			"ran out": {ExpiresAt: old}, "ended": {ExpiresAt: fresh, EndedAt: old}, "live": {ExpiresAt: fresh}, "ended lately": {ExpiresAt: fresh, EndedAt: fresh},
		} {
			x.ID, x.PersonID, x.StartedAt, x.RotatedAt = id, "ana", old, old
			require.NoError(t, s.AddSession(ctx, x))
		}
		for id, at := range map[string]time.Time{"old": old, "fresh": fresh} {
			_, err := s.SpendNonce(ctx, id, at)
			require.NoError(t, err)
			_, err = s.LockTries(ctx, id, at)
			require.NoError(t, err)
			require.NoError(t, s.AddEnrolment(ctx, signin.Enrolment{ID: id, PersonID: "ana", Purpose: signin.ForPhone, Kind: signin.ByLink, Secret: id, MadeAt: old, ExpiresAt: at}))
		}
		rows, err := s.PurgeSignIn(ctx, signin.Purge{Now: now, Tries: now, Sessions: now, Ways: now})
		require.NoError(t, err)
		require.Equal(t, 5, rows)
		rows, err = s.PurgeSignIn(ctx, signin.Purge{Now: now, Tries: now, Sessions: now, Ways: now})
		require.NoError(t, err)
		require.Zero(t, rows)
		_, err = s.Bearer(ctx, "live")
		require.NoError(t, err)
	})
}
