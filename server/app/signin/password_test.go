package signin_test

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin"

	"github.com/pquerna/otp/totp"
	"github.com/stretchr/testify/require"
)

func TestWrongPasswordAndNoAccountAnswerAlike(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		nobody := farm.Person{Email: "nobody@palmwalk.example"}
		for n := 1; n <= 8; n++ {
			_, known := w.try(p, other, here, "")
			_, unknown := w.try(nobody, other, there, "")
			require.Error(t, known)
			require.Equal(t, known, unknown, "try %d", n)
		}
	})
}

func TestGuessingIsSlowedFromTheFifthTry(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		for range 5 {
			_, err := w.try(p, other, here, "")
			require.Equal(t, "sign-in-wrong", domain.CodeOf(err))
		}
		_, err := w.try(p, password, here, "")
		require.Equal(t, "too-many-tries", domain.CodeOf(err), "the right one waits too")
		require.Equal(t, domain.KindTooMany, domain.KindOf(err))
		w.pass(time.Second)
		w.signIn(p)
		w.signIn(p)
		_, err = w.try(p, other, here, "")
		require.Equal(t, "sign-in-wrong", domain.CodeOf(err), "a success begins the count anew")
	})
}

// A thousand guesses at the same moment are counted like a thousand in a row.
func TestGuessesAtOnceAreCounted(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		var all sync.WaitGroup
		var mu sync.Mutex
		looked := 0
		for range 40 {
			all.Go(func() {
				_, err := w.try(p, other, here, "")
				mu.Lock()
				defer mu.Unlock()
				if domain.CodeOf(err) == "sign-in-wrong" {
					looked++
				}
			})
		}
		all.Wait()
		require.Equal(t, 5, looked)
	})
}

// guessFrom makes n wrong tries from as many networks, each in its own time.
func (w *world) guessFrom(p farm.Person, n int) (last error) {
	for i := range n {
		_, last = w.try(p, other, fmt.Sprintf("192.0.2.%d", i), "")
		w.pass(2 * time.Minute)
	}
	return last
}

// Strangers on a hundred networks close the name to new devices, and to
// nobody else: ASVS 5.0.0 6.1.1.
func TestStrangersNeverLockTheOwnersPhoneOrBrowser(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		desk := w.signIn(p)
		h, phone := w.enrolled(p)
		require.Equal(t, "sign-in-wrong", domain.CodeOf(w.guessFrom(p, 100)))
		_, err := w.try(p, password, there, "")
		require.Equal(t, "sign-in-closed", domain.CodeOf(err))
		_, err = w.try(p, password, there, "made.up.mark")
		require.Equal(t, "sign-in-closed", domain.CodeOf(err))

		_, err = h.refresh(phone)
		require.NoError(t, err)
		_, err = h.signIn()
		require.NoError(t, err)
		_, err = w.try(p, password, here, desk.Browser)
		require.NoError(t, err, "the browser that they use")
		_, err = w.try(p, password, there, "")
		require.NoError(t, err, "and with it the name is open again")
	})
}

func TestCountsOutliveTheServer(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		require.Error(t, w.guessFrom(p, 100))
		w.s = w.service(quick, secretOf(1))
		_, err := w.try(p, password, there, "")
		require.Equal(t, "sign-in-closed", domain.CodeOf(err))
	})
}

func TestALinkOpensAClosedName(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		require.Error(t, w.guessFrom(p, 100))
		login, err := w.s.SetPassword(ctx, w.make(p, signin.ForPassword, signin.ByLink).Secret, other)
		require.NoError(t, err)
		require.Equal(t, "ana@palmwalk.example", login)
		_, err = w.try(p, other, there, "")
		require.NoError(t, err)
	})
}

func TestAKnownBrowserHasTenTries(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		browser := w.signIn(p).Browser
		for range 10 {
			_, err := w.try(p, other, here, browser)
			require.Equal(t, "sign-in-wrong", domain.CodeOf(err))
			w.pass(15 * time.Minute)
		}
		require.Error(t, w.guessFrom(p, 100))
		_, err := w.try(p, password, here, browser)
		require.Equal(t, "sign-in-closed", domain.CodeOf(err), "then it is a browser like any other")
	})
}

func TestAMarkIsForItsPersonAndPassword(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		ana, ben := w.advisor("ana"), w.advisor("ben")
		mark := w.signIn(ben).Browser
		anas := w.signIn(ana).Browser
		require.Error(t, w.guessFrom(ana, 100))
		_, err := w.try(ana, password, here, mark)
		require.Equal(t, "sign-in-closed", domain.CodeOf(err))

		w.pass(time.Hour)
		_, err = w.s.SetPassword(ctx, w.make(ana, signin.ForPassword, signin.ByLink).Secret, other)
		require.NoError(t, err)
		require.NoError(t, w.guessFrom(ana, 100))
		_, err = w.try(ana, other, here, anas)
		require.NoError(t, err, "guessFrom tried what is now the right one")
	})
}

func TestSprayingManyNamesIsSlowed(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		for i := range 31 {
			_, err := w.try(farm.Person{Email: fmt.Sprintf("p%d@palmwalk.example", i)}, other, there, "")
			require.Equal(t, "sign-in-wrong", domain.CodeOf(err))
		}
		_, err := w.try(farm.Person{Email: "another@palmwalk.example"}, other, there, "")
		require.Equal(t, "too-many-tries", domain.CodeOf(err))
		w.pass(time.Hour)
		_, err = w.try(farm.Person{Email: "another@palmwalk.example"}, other, there, "")
		require.Equal(t, "sign-in-wrong", domain.CodeOf(err))
	})
}

func TestChangePassword(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		elsewhere, in := w.signIn(p), w.signIn(p)
		who := w.actor(in)
		_, err := w.s.ChangePassword(ctx, who, other, other)
		require.Equal(t, "password-wrong", domain.CodeOf(err))
		_, err = w.s.ChangePassword(ctx, who, password, "short")
		require.Equal(t, "password-too-short", domain.CodeOf(err))
		_, err = w.s.ChangePassword(ctx, who, password, "passwordpassword")
		require.Equal(t, "password-known", domain.CodeOf(err))

		browser, err := w.s.ChangePassword(ctx, who, password, other)
		require.NoError(t, err)
		_, err = w.s.Authenticate(ctx, elsewhere.Access)
		require.Error(t, err, "other sessions end")
		w.actor(in)
		_, err = w.try(p, password, here, "")
		require.Equal(t, "sign-in-wrong", domain.CodeOf(err))
		_, err = w.try(p, other, here, browser)
		require.NoError(t, err)
		require.NotContains(t, w.log.String(), password)
		require.NotContains(t, w.log.String(), other)
	})
}

func TestConfirmingIsGuardedToo(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		who := w.actor(w.signIn(p))
		for range 20 {
			require.Equal(t, "password-wrong", domain.CodeOf(w.s.Confirm(ctx, who, other)))
			w.pass(15 * time.Minute)
		}
		require.Equal(t, domain.KindTooMany, domain.KindOf(w.s.Confirm(ctx, who, password)))
		require.NoError(t, w.s.Confirm(ctx, w.actor(w.signIn(p)), password), "a new session has new tries")
		_, phone := w.enrolled(w.caretaker("kofi"))
		require.Equal(t, "no-password", domain.CodeOf(w.s.Confirm(ctx, w.actor(phone), password)))
	})
}

func TestHashesAreUpgradedAtSignIn(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		before, err := w.store.PasswordByLogin(ctx, p.Email)
		require.NoError(t, err)
		more := quick
		more.Iterations++
		w.s = w.service(more, secretOf(1))
		w.signIn(p)
		after, err := w.store.PasswordByLogin(ctx, p.Email)
		require.NoError(t, err)
		require.NotEqual(t, before.Hash, after.Hash)
		require.Contains(t, after.Hash, "t=2")
		require.Equal(t, before.ChangedAt, after.ChangedAt)
		w.signIn(p)
	})
}

func TestOnlyTheServerGivesPasswords(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		admin := w.person("ama", farm.Grant{Role: farm.Administrator})
		who := app.Actor{PersonID: admin.ID, Grants: admin.Grants}
		_, err := w.s.GivePassword(ctx, who, admin.ID, password)
		require.Equal(t, domain.KindForbidden, domain.KindOf(err))
		_, err = w.s.GivePassword(ctx, app.System, admin.ID, "password1234567")
		require.Error(t, err, "the policy holds for the demo too")
	})
}

func TestTwoPeopleCannotShareAName(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		ana := w.advisor("ana")
		ben := w.person("ben", farm.Grant{Role: farm.Advisor})
		w.change(ben.ID, func(p *farm.Person) { p.Email = "ANA@palmwalk.example" })
		_, err := w.s.GivePassword(ctx, app.System, ben.ID, password)
		require.Equal(t, domain.KindConflict, domain.KindOf(err))
		w.signIn(ana)
	})
}

// code is what the code app shows.
func (w *world) code(secret string) string {
	code, err := totp.GenerateCode(secret, w.now())
	require.NoError(w.t, err)
	return code
}

func TestCodeApp(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		elsewhere, in := w.signIn(p), w.signIn(p)
		who := w.actor(in)
		_, _, err := w.s.StartCodeApp(ctx, who, other)
		require.Equal(t, "password-wrong", domain.CodeOf(err))
		require.Equal(t, "code-app-not-started", domain.CodeOf(w.s.ConfirmCodeApp(ctx, who, "123456")))

		secret, uri, err := w.s.StartCodeApp(ctx, who, password)
		require.NoError(t, err)
		require.Contains(t, uri, "otpauth://totp/")
		stored, err := w.store.PasswordByLogin(ctx, p.Email)
		require.NoError(t, err)
		require.NotContains(t, stored.TOTPPending, secret)
		w.signIn(p) // it is not asked for before it is proved
		require.Equal(t, "code-wrong", domain.CodeOf(w.s.ConfirmCodeApp(ctx, who, "abcdef")))
		require.NoError(t, w.s.ConfirmCodeApp(ctx, who, w.code(secret)))
		_, err = w.s.Authenticate(ctx, elsewhere.Access)
		require.Error(t, err, "other sessions end")

		with := func(pass, code string) error {
			_, err := w.s.SignIn(ctx, signin.SignIn{Login: p.Email, Password: pass, Code: code, Network: here})
			return err
		}
		require.Equal(t, "code-needed", domain.CodeOf(with(password, "")))
		require.Equal(t, "sign-in-wrong", domain.CodeOf(with(password, w.code(secret))), "the code that confirmed is used up")
		w.pass(30 * time.Second)
		require.Equal(t, "sign-in-wrong", domain.CodeOf(with(other, w.code(secret))))
		require.NoError(t, with(password, w.code(secret)))
		require.Equal(t, "sign-in-wrong", domain.CodeOf(with(password, w.code(secret))), "a code works once")
	})
}

// Who has the password cannot guess at the code for ever, not even by asking
// for the code in between.
func TestTheCodeIsGuardedToo(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		who := w.actor(w.signIn(p))
		secret, _, err := w.s.StartCodeApp(ctx, who, password)
		require.NoError(t, err)
		require.NoError(t, w.s.ConfirmCodeApp(ctx, who, w.code(secret)))
		guesses := 0
		for i := range 500 {
			in := signin.SignIn{Login: p.Email, Password: password, Network: fmt.Sprintf("192.0.2.%d", i)}
			_, err := w.s.SignIn(ctx, in)
			if domain.CodeOf(err) == "sign-in-closed" {
				break
			}
			in.Code = "00000x"
			if _, err = w.s.SignIn(ctx, in); domain.CodeOf(err) == "sign-in-wrong" {
				guesses++
			}
			w.pass(2 * time.Minute)
		}
		require.LessOrEqual(t, guesses, 100)
	})
}

func TestAShortPasswordNeedsTheCodeApp(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		who := w.actor(w.signIn(p))
		secret, _, err := w.s.StartCodeApp(ctx, who, password)
		require.NoError(t, err)
		require.NoError(t, w.s.ConfirmCodeApp(ctx, who, w.code(secret)))
		_, err = w.s.ChangePassword(ctx, who, password, "tkwzrqbf")
		require.NoError(t, err)
		require.Equal(t, "password-too-short-alone", domain.CodeOf(w.s.RemoveCodeApp(ctx, who, "tkwzrqbf")))

		_, err = w.s.SetPassword(ctx, w.make(p, signin.ForReset, signin.ByLink).Secret, "bfqrzwkt")
		require.Equal(t, "password-too-short", domain.CodeOf(err), "a reset forgets the code app")
		_, err = w.s.SetPassword(ctx, w.make(p, signin.ForPassword, signin.ByLink).Secret, "bfqrzwkt")
		require.NoError(t, err, "a link for the password keeps it")
		_, err = w.try(p, "bfqrzwkt", here, "")
		require.Equal(t, "code-needed", domain.CodeOf(err))
		_, err = w.s.SetPassword(ctx, w.make(p, signin.ForReset, signin.ByLink).Secret, password)
		require.NoError(t, err)
		w.signIn(p)
	})
}

func TestRemoveCodeApp(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		who := w.actor(w.signIn(p))
		secret, _, err := w.s.StartCodeApp(ctx, who, password)
		require.NoError(t, err)
		require.NoError(t, w.s.ConfirmCodeApp(ctx, who, w.code(secret)))
		require.Equal(t, "password-wrong", domain.CodeOf(w.s.RemoveCodeApp(ctx, who, other)))
		require.NoError(t, w.s.RemoveCodeApp(ctx, who, password))
		w.signIn(p)
	})
}

func TestALinkForAPasswordWorksOnce(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		in := w.signIn(p)
		void := w.make(p, signin.ForPassword, signin.ByLink)
		made := w.make(p, signin.ForPassword, signin.ByLink)
		_, err := w.s.SetPassword(ctx, void.Secret, other)
		require.Equal(t, "way-in-over", domain.CodeOf(err), "a new link voids the old one")
		_, who, err := w.s.Look(ctx, made.Secret)
		require.NoError(t, err)
		require.Equal(t, "ana", who.Name)
		_, err = w.s.SetPassword(ctx, made.Secret, "short")
		require.Equal(t, "password-too-short", domain.CodeOf(err), "a refused password spends nothing")
		_, err = w.s.SetPassword(ctx, made.Secret, other)
		require.NoError(t, err)
		_, err = w.s.SetPassword(ctx, made.Secret, password)
		require.Equal(t, "way-in-over", domain.CodeOf(err))
		_, _, err = w.s.Look(ctx, made.Secret)
		require.Equal(t, "way-in-over", domain.CodeOf(err))
		_, err = w.s.Authenticate(ctx, in.Access)
		require.Error(t, err, "all sessions end")

		late := w.make(p, signin.ForPassword, signin.ByLink)
		w.pass(48 * time.Hour)
		_, err = w.s.SetPassword(ctx, late.Secret, password)
		require.Equal(t, "way-in-over", domain.CodeOf(err))
		_, err = w.s.SetPassword(ctx, w.make(p, signin.ForPhone, signin.ByLink).Secret, password)
		require.Equal(t, "way-in-over", domain.CodeOf(err), "a phone's link sets no password")
	})
}
