package signin_test

import (
	"context"
	"strings"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin"

	"github.com/stretchr/testify/require"
)

func TestSignInMakesAnActor(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		out := w.signIn(p)
		who := w.actor(out)
		require.Equal(t, app.Actor{PersonID: p.ID, Name: "ana", Language: "fr", Grants: p.Grants, SessionID: out.SessionID}, who)
		w.pass(10 * time.Minute)
		_, err := w.s.Authenticate(ctx, out.Access)
		require.Equal(t, domain.KindUnauthenticated, domain.KindOf(err), "an access token lives ten minutes")
	})
}

// Ending, disabling and a change of grants hold from the next request on.
func TestRevocationIsAtOnce(t *testing.T) {
	for name, revoke := range map[string]func(w *world, p farm.Person, in signin.Signed) error{
		"signed out": func(w *world, _ farm.Person, in signin.Signed) error { return w.s.SignOut(ctx, in.Refresh) },
		"ended by hand": func(w *world, p farm.Person, in signin.Signed) error {
			return w.s.EndSession(ctx, app.System, p.ID, in.SessionID)
		},
		"all ended": func(w *world, p farm.Person, _ signin.Signed) error { return w.s.EndAllSessions(ctx, app.System, p.ID) },
		"disabled": func(w *world, p farm.Person, _ signin.Signed) error {
			w.change(p.ID, func(p *farm.Person) { p.Active = false })
			return nil
		},
	} {
		t.Run(name, func(t *testing.T) {
			each(t, func(t *testing.T, w *world) {
				p := w.advisor("ana")
				in := w.signIn(p)
				require.NoError(t, revoke(w, p, in))
				_, err := w.s.Authenticate(ctx, in.Access)
				require.Equal(t, "not-signed-in", domain.CodeOf(err))
				_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
				require.Equal(t, "not-signed-in", domain.CodeOf(err))
			})
		})
	}
}

func TestAChangeOfGrantsIsAtOnce(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		in := w.signIn(p)
		w.change(p.ID, func(p *farm.Person) { p.Grants = []farm.Grant{{Role: farm.FieldOfficer}} })
		require.Equal(t, []farm.Grant{{Role: farm.FieldOfficer}}, w.actor(in).Grants)
	})
}

func TestDisablingRefusesSignInLikeAWrongPassword(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		w.change(p.ID, func(p *farm.Person) { p.Active = false })
		_, err := w.try(p, password, here, "")
		require.Equal(t, "sign-in-wrong", domain.CodeOf(err))
	})
}

// A thousand answers in a row get lost on the way; each is asked for again.
func TestLostAnswersLoseNoSession(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		desk := w.signIn(w.advisor("ana"))
		h, phone := w.enrolled(w.caretaker("kofi"))
		for range 1000 {
			w.pass(10 * time.Minute)
			lost, err := w.s.Refresh(ctx, signin.Refresh{Cookie: desk.Refresh})
			require.NoError(t, err)
			w.pass(time.Minute)
			again, err := w.s.Refresh(ctx, signin.Refresh{Cookie: desk.Refresh})
			require.NoError(t, err)
			require.Equal(t, lost.Refresh, again.Refresh, "the same successor")
			desk = again
			w.actor(desk)
		}
		for range 100 {
			lost, err := h.refresh(phone)
			require.NoError(t, err)
			w.pass(20 * time.Hour) // no signal for most of a day
			again, err := h.refresh(phone)
			require.NoError(t, err)
			require.Equal(t, lost.Refresh, again.Refresh)
			if phone = again; w.now().After(phone.Until.Add(-24 * time.Hour)) {
				phone, err = h.signIn()
				require.NoError(t, err)
			}
		}
		w.actor(phone)
	})
}

// Two tabs renew at the same moment: both go on with the same token.
func TestTwoTabs(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		in := w.signIn(w.advisor("ana"))
		got := make([]signin.Signed, 8)
		errs := make([]error, len(got))
		var all sync.WaitGroup
		for i := range got {
			all.Go(func() { got[i], errs[i] = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh}) })
		}
		all.Wait()
		for i := range got {
			require.NoError(t, errs[i])
			require.Equal(t, got[0].Refresh, got[i].Refresh)
		}
		w.actor(got[0])
	})
}

func TestReplayOfAnOlderTokenEndsTheSession(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		stolen := w.signIn(p)
		bystander := w.signIn(p)
		second, err := w.s.Refresh(ctx, signin.Refresh{Cookie: stolen.Refresh})
		require.NoError(t, err)
		third, err := w.s.Refresh(ctx, signin.Refresh{Cookie: second.Refresh})
		require.NoError(t, err)

		_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: stolen.Refresh})
		require.Equal(t, "not-signed-in", domain.CodeOf(err))
		for _, in := range []signin.Signed{second, third} {
			_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
			require.Error(t, err)
			_, err = w.s.Authenticate(ctx, in.Access)
			require.Error(t, err)
		}
		w.actor(bystander)
		require.Contains(t, w.log.String(), "an old refresh token was used")
	})
}

func TestALateRetryOfABrowserIsAReplay(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		in := w.signIn(w.advisor("ana"))
		next, err := w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
		require.NoError(t, err)
		w.pass(2*time.Minute + time.Second)
		_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
		require.Error(t, err)
		_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: next.Refresh})
		require.Error(t, err)
	})
}

func TestIdleAndAbsoluteEnds(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		idle := w.signIn(p)
		w.pass(12*time.Hour + time.Second)
		_, err := w.s.Refresh(ctx, signin.Refresh{Cookie: idle.Refresh})
		require.Equal(t, "not-signed-in", domain.CodeOf(err))

		in := w.signIn(p)
		started := w.now()
		for w.now().Sub(started) < 30*24*time.Hour-12*time.Hour {
			w.pass(12 * time.Hour)
			in, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
			require.NoError(t, err)
		}
		w.pass(12 * time.Hour)
		_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
		require.Equal(t, "not-signed-in", domain.CodeOf(err))
		_, err = w.s.Authenticate(ctx, in.Access)
		require.Error(t, err)
	})
}

// A database restored from a backup knows fewer renewals than its sessions
// have had; they go on.
func TestSessionsOutliveARestoredBackup(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		in := w.signIn(w.advisor("ana"))
		var err error
		for range 5 {
			in, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
			require.NoError(t, err)
		}
		require.NoError(t, w.store.InTx(ctx, func(ctx context.Context) error {
			x, err := w.store.LockSession(ctx, in.SessionID)
			require.NoError(t, err)
			x.Generation = 2
			return w.store.PutSession(ctx, x)
		}))
		next, err := w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
		require.NoError(t, err)
		w.actor(next)
	})
}

func TestANewSignInEndsTheBrowsersOldSession(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		old := w.signIn(p)
		next, err := w.s.SignIn(ctx, signin.SignIn{Login: p.Email, Password: password, Network: here, Cookie: old.Refresh})
		require.NoError(t, err)
		require.NotEqual(t, old.SessionID, next.SessionID)
		_, err = w.s.Authenticate(ctx, old.Access)
		require.Error(t, err)

		foreign := w.signIn(w.advisor("ben"))
		_, err = w.s.SignIn(ctx, signin.SignIn{Login: p.Email, Password: password, Network: here, Cookie: foreign.Refresh})
		require.NoError(t, err)
		w.actor(foreign)
	})
}

func TestTheOldestOfTooManySessionsEnds(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		_, phone := w.enrolled(p)
		first := w.signIn(p)
		for range 9 {
			w.pass(time.Second)
			w.signIn(p)
		}
		w.actor(first)
		w.pass(time.Second)
		last := w.signIn(p)
		_, err := w.s.Authenticate(ctx, first.Access)
		require.Error(t, err)
		w.actor(phone)
		lines, err := w.s.Sessions(ctx, w.actor(last), p.ID)
		require.NoError(t, err)
		require.Len(t, lines, 11)
		require.True(t, lines[0].Current)
	})
}

func TestSessionsAreSeenAndEndedByTheirOwnerAndAdministrators(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		ana, ben := w.advisor("ana"), w.advisor("ben")
		admin := w.person("ama", farm.Grant{Role: farm.Administrator})
		_, err := w.s.GivePassword(ctx, app.System, admin.ID, password)
		require.NoError(t, err)
		one, two, stranger, boss := w.signIn(ana), w.signIn(ana), w.signIn(ben), w.signIn(admin)

		_, err = w.s.Sessions(ctx, w.actor(stranger), ana.ID)
		require.Equal(t, domain.KindForbidden, domain.KindOf(err))
		require.Equal(t, domain.KindForbidden, domain.KindOf(w.s.EndSession(ctx, w.actor(stranger), ana.ID, one.SessionID)))
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.s.EndSession(ctx, w.actor(stranger), ben.ID, one.SessionID)), "named as one's own")
		require.Equal(t, domain.KindForbidden, domain.KindOf(w.s.EndAllSessions(ctx, w.actor(stranger), ana.ID)))
		w.actor(one)

		require.NoError(t, w.s.EndOtherSessions(ctx, w.actor(two)))
		_, err = w.s.Authenticate(ctx, one.Access)
		require.Error(t, err)
		require.NoError(t, w.s.EndAllSessions(ctx, w.actor(boss), ana.ID))
		_, err = w.s.Authenticate(ctx, two.Access)
		require.Error(t, err)
		w.actor(stranger)
	})
}

func TestSignOutForgivesWhatIsNoCookie(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		for _, cookie := range []string{"", "x", "a.1.b.c", strings.Repeat("x", 5000)} {
			require.NoError(t, w.s.SignOut(ctx, cookie))
			_, err := w.s.Refresh(ctx, signin.Refresh{Cookie: cookie})
			require.Equal(t, "not-signed-in", domain.CodeOf(err))
		}
		in := w.signIn(w.advisor("ana"))
		require.NoError(t, w.s.SignOut(ctx, in.Refresh))
		require.NoError(t, w.s.SignOut(ctx, in.Refresh))
	})
}
