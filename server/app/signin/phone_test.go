package signin_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin"

	"github.com/stretchr/testify/require"
)

func TestEnrolByLinkAndByCode(t *testing.T) {
	for name, kind := range map[string]signin.Kind{"link": signin.ByLink, "code": signin.ByCode} {
		t.Run(name, func(t *testing.T) {
			each(t, func(t *testing.T, w *world) {
				p := w.caretaker("kofi")
				made := w.make(p, signin.ForPhone, kind)
				ticket := signin.Ticket{Secret: made.Secret, Code: made.Code}
				h := w.handset()
				in, err := h.enrol(ticket)
				require.NoError(t, err)
				require.Equal(t, p.ID, w.actor(in).PersonID)
				require.Equal(t, h.device, w.actor(in).DeviceID)
				require.NotContains(t, w.log.String(), made.Secret+made.Code)

				_, err = w.handset().enrol(ticket)
				require.Equal(t, "way-in-over", domain.CodeOf(err), "it works once")
				again, err := h.enrol(ticket)
				require.NoError(t, err, "the same phone, whose answer was lost, gets it again")
				require.Equal(t, in.DeviceID, again.DeviceID)
				_, err = h.signIn()
				require.NoError(t, err)
			})
		})
	}
}

func TestWaysInAreStoredHashed(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		made := w.make(w.caretaker("kofi"), signin.ForPhone, signin.ByCode)
		require.NoError(t, w.store.InTx(ctx, func(ctx context.Context) error {
			e, err := w.store.LockEnrolment(ctx, signin.ByHandle, made.Code[:3])
			require.NoError(t, err)
			require.NotContains(t, e.Secret, made.Code[3:])
			return nil
		}))
		require.Len(t, made.Code, 8)
		require.Len(t, w.make(w.caretaker("ama"), signin.ForPhone, signin.ByLink).Secret, 22) // 128 bits
	})
}

func TestCodesRunOut(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		code, link := w.make(w.caretaker("kofi"), signin.ForPhone, signin.ByCode), w.make(w.caretaker("ama"), signin.ForPhone, signin.ByLink)
		w.pass(10 * time.Minute)
		_, err := w.handset().enrol(signin.Ticket{Code: code.Code})
		require.Equal(t, "way-in-over", domain.CodeOf(err))
		w.pass(48*time.Hour - 10*time.Minute - time.Second)
		_, _, err = w.s.Look(ctx, link.Secret)
		require.NoError(t, err)
		w.pass(time.Second)
		_, err = w.handset().enrol(signin.Ticket{Secret: link.Secret})
		require.Equal(t, "way-in-over", domain.CodeOf(err))
	})
}

// wrongCode is another code under the same handle.
func wrongCode(code string) string {
	if code[7] == 'A' {
		return code[:7] + "C"
	}
	return code[:7] + "A"
}

func TestACodeHasFiveTries(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		code := w.make(w.caretaker("kofi"), signin.ForPhone, signin.ByCode).Code
		for range 4 {
			_, err := w.handset().enrol(signin.Ticket{Code: wrongCode(code)})
			require.Equal(t, "way-in-over", domain.CodeOf(err))
		}
		_, err := w.handset().enrol(signin.Ticket{Code: code})
		require.NoError(t, err, "the fifth is right")

		code = w.make(w.caretaker("ama"), signin.ForPhone, signin.ByCode).Code
		for range 5 {
			w.pass(20 * time.Second)
			_, err := w.handset().enrol(signin.Ticket{Code: wrongCode(code)})
			require.Equal(t, "way-in-over", domain.CodeOf(err))
		}
		w.pass(time.Minute)
		_, err = w.handset().enrol(signin.Ticket{Code: code})
		require.Equal(t, "way-in-over", domain.CodeOf(err), "the sixth is too late")
	})
}

func TestGuessingCodesIsSlowed(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		for range 5 {
			_, err := w.handset().enrol(signin.Ticket{Code: "ACDEFHKL"})
			require.Equal(t, "way-in-over", domain.CodeOf(err))
		}
		_, err := w.handset().enrol(signin.Ticket{Code: "ACDEFHKL"})
		require.Equal(t, "too-many-tries", domain.CodeOf(err))
	})
}

func TestATicketIsSpentByOneOfManyPhones(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.caretaker("kofi")
		secret := w.make(p, signin.ForPhone, signin.ByLink).Secret
		var all sync.WaitGroup
		errs := make([]error, 8)
		for i := range errs {
			h := w.handset()
			all.Go(func() { _, errs[i] = h.enrol(signin.Ticket{Secret: secret}) })
		}
		all.Wait()
		in := 0
		for _, err := range errs {
			if err == nil {
				in++
			} else {
				require.Equal(t, "way-in-over", domain.CodeOf(err))
			}
		}
		require.Equal(t, 1, in)
		phones, err := w.s.Phones(ctx, app.System, p.ID)
		require.NoError(t, err)
		require.Len(t, phones, 1)
	})
}

func TestEnrolNeedsAProof(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		secret := w.make(w.caretaker("kofi"), signin.ForPhone, signin.ByLink).Secret
		h, stranger := w.handset(), w.handset()
		good := h.prove("enrol", h.print)
		old := w.s.Nonce().Text
		for name, c := range map[string]struct {
			key   string
			proof signin.Proof
			code  string
		}{
			"another's key":         {stranger.jwk, good, "not-signed-in"},
			"for something else":    {h.jwk, h.prove("sign-in", h.print), "not-signed-in"},
			"no signature":          {h.jwk, signin.Proof{Nonce: good.Nonce}, "not-signed-in"},
			"no nonce":              {h.jwk, signin.Proof{Signature: good.Signature}, "proof-needed"},
			"a nonce that it made":  {h.jwk, h.sign("enrol", "made.up.by.me", h.print), "proof-needed"},
			"a key that is no key":  {"{}", good, "key-unreadable"},
			"its private key":       {h.jwk[:len(h.jwk)-1] + `,"d":"AA"}`, good, "key-unreadable"},
			"a key of another kind": {`{"kty":"oct","k":"AA"}`, good, "key-unreadable"},
		} {
			_, err := w.s.EnrolPhone(ctx, signin.EnrolPhone{Ticket: signin.Ticket{Secret: secret}, Key: c.key, Proof: c.proof, Network: here})
			require.Equal(t, c.code, domain.CodeOf(err), name)
		}
		w.pass(15 * time.Minute)
		_, err := w.s.EnrolPhone(ctx, signin.EnrolPhone{Ticket: signin.Ticket{Secret: secret}, Key: h.jwk, Proof: h.sign("enrol", old, h.print), Network: here})
		require.Equal(t, "proof-needed", domain.CodeOf(err), "an old nonce")
		_, err = h.enrol(signin.Ticket{Secret: secret})
		require.NoError(t, err, "nothing of that spent the link")
	})
}

func TestANonceIsGoodOnce(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		h, in := w.enrolled(w.caretaker("kofi"))
		proof := h.prove("sign-in", h.device)
		_, err := w.s.SignInPhone(ctx, h.device, proof, "")
		require.NoError(t, err)
		_, err = w.s.SignInPhone(ctx, h.device, proof, "")
		require.Equal(t, "proof-needed", domain.CodeOf(err))
		_, err = w.s.SignInPhone(ctx, "no such phone", h.prove("sign-in", "no such phone"), "")
		require.Equal(t, "not-signed-in", domain.CodeOf(err))
		other := w.handset()
		_, err = w.s.SignInPhone(ctx, h.device, other.prove("sign-in", h.device), "")
		require.Equal(t, "not-signed-in", domain.CodeOf(err))
		_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh, Proof: h.prove("sign-in", in.SessionID)})
		require.Error(t, err)
	})
}

// Whoever copies the cookie of a phone, or holds the phone without its PIN,
// gets nowhere.
func TestAPhonesCookieAloneIsWorthNothing(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		h, in := w.enrolled(w.caretaker("kofi"))
		_, err := w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
		require.Equal(t, "proof-needed", domain.CodeOf(err))
		thief := w.handset()
		_, err = w.s.Refresh(ctx, signin.Refresh{Cookie: in.Refresh, Proof: thief.prove("refresh", in.SessionID)})
		require.Equal(t, "not-signed-in", domain.CodeOf(err))
		_, err = h.refresh(in)
		require.NoError(t, err, "and the owner goes on")
	})
}

func TestAPhoneLivesNinetyDays(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		h, in := w.enrolled(w.caretaker("kofi"))
		w.pass(60 * 24 * time.Hour)
		in, err := h.refresh(in)
		require.NoError(t, err, "sixty days without signal")
		w.pass(60 * 24 * time.Hour)
		_, err = h.refresh(in)
		require.Error(t, err, "a session lives ninety days in all")
		_, err = h.signIn()
		require.NoError(t, err, "and the key starts another")
		w.pass(90*24*time.Hour + time.Second)
		_, err = h.signIn()
		require.Equal(t, "not-signed-in", domain.CodeOf(err), "a phone that was silent for ninety days is enrolled anew")
	})
}

func TestTwoPhonesAndRevokingThem(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.caretaker("kofi")
		one, in := w.enrolled(p)
		two, second := w.enrolled(p)
		who := w.actor(second)
		phones, err := w.s.Phones(ctx, who, p.ID)
		require.NoError(t, err)
		require.Len(t, phones, 2)

		require.NoError(t, w.s.RevokePhone(ctx, who, p.ID, one.device))
		_, err = w.s.Authenticate(ctx, in.Access)
		require.Equal(t, "device-revoked", domain.CodeOf(err), "at once")
		_, err = one.signIn()
		require.Error(t, err)
		_, err = one.refresh(in)
		require.Error(t, err)
		_, err = two.signIn()
		require.NoError(t, err)

		stranger := w.caretaker("ama")
		foreign, _ := w.enrolled(stranger)
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.s.RevokePhone(ctx, who, p.ID, foreign.device)), "another's, named as one's own")
		require.Error(t, w.s.RevokePhones(ctx, who, stranger.ID))
		_, err = w.s.Phones(ctx, who, stranger.ID)
		require.Error(t, err)

		require.NoError(t, w.s.RevokePhones(ctx, app.System, p.ID))
		_, err = two.signIn()
		require.Error(t, err)
		_, err = foreign.signIn()
		require.NoError(t, err)
	})
}

func TestWrongPINsAreCountedAndRevokeAtTen(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.caretaker("kofi")
		h, in := w.enrolled(p)
		require.NoError(t, w.s.ReportPIN(ctx, in.Refresh, "", 3))
		phones, err := w.s.Phones(ctx, app.System, p.ID)
		require.NoError(t, err)
		require.Equal(t, 3, phones[0].Failures)
		in, err = h.refresh(in)
		require.NoError(t, err)
		phones, err = w.s.Phones(ctx, app.System, p.ID)
		require.NoError(t, err)
		require.Zero(t, phones[0].Failures, "a signature needs the PIN")

		require.NoError(t, w.s.ReportPIN(ctx, in.Refresh, "the phone of another in the family", 10))
		in, err = h.signIn()
		require.NoError(t, err)

		require.NoError(t, w.s.ReportPIN(ctx, in.Refresh, h.device, 10))
		_, err = h.signIn()
		require.Equal(t, "device-revoked", domain.CodeOf(err))
		require.Error(t, w.s.ReportPIN(ctx, "made up", "", 10))
		require.Equal(t, "no-phone", domain.CodeOf(w.s.ReportPIN(ctx, w.signIn(w.advisor("ana")).Refresh, "", 10)))
	})
}

func TestAForgottenPINIsANewCode(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.caretaker("kofi")
		old, _ := w.enrolled(p)
		h := w.handset()
		in, err := w.s.EnrolPhone(ctx, signin.EnrolPhone{
			Ticket: signin.Ticket{Code: w.make(p, signin.ForPhone, signin.ByCode).Code}, Key: h.jwk,
			Proof: h.prove("enrol", h.print), Before: []string{"gone", old.device}, Network: here,
		})
		require.NoError(t, err)
		w.actor(in)
		_, err = old.signIn()
		require.Error(t, err, "the same phone under its old key")

		victim, _ := w.enrolled(w.caretaker("ama"))
		h2 := w.handset()
		_, err = w.s.EnrolPhone(ctx, signin.EnrolPhone{
			Ticket: signin.Ticket{Code: w.make(p, signin.ForPhone, signin.ByCode).Code}, Key: h2.jwk,
			Proof: h2.prove("enrol", h2.print), Before: []string{victim.device}, Network: here,
		})
		require.NoError(t, err)
		_, err = victim.signIn()
		require.NoError(t, err, "nobody replaces another's phone")
	})
}

func TestWhoMayMakeWaysIn(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		kofi, ben := w.caretaker("kofi"), w.advisor("ben")
		ana := w.actor(w.signIn(w.advisor("ana")))
		_, phone := w.enrolled(w.caretaker("ama"))
		caretaker := w.actor(phone)
		boss := app.Actor{PersonID: ben.ID, Grants: []farm.Grant{{Role: farm.Administrator}}}
		try := func(who app.Actor, p farm.Person, purpose signin.Purpose, kind signin.Kind) string {
			_, err := w.s.MakeEnrolment(ctx, who, signin.MakeEnrolment{PersonID: p.ID, Purpose: purpose, Kind: kind})
			return domain.CodeOf(err)
		}
		require.Empty(t, try(ana, kofi, signin.ForPhone, signin.ByCode))
		require.Equal(t, "forbidden", try(ana, ben, signin.ForPhone, signin.ByLink), "a phone of ben's is ben")
		require.Equal(t, "forbidden", try(ana, ben, signin.ForReset, signin.ByLink))
		require.Equal(t, "person-not-found", try(caretaker, kofi, signin.ForPhone, signin.ByLink))
		require.Equal(t, "forbidden", try(caretaker, farm.Person{ID: caretaker.PersonID}, signin.ForPhone, signin.ByLink), "caretakers ask their advisor")
		require.Equal(t, "person-not-found", try(app.Actor{}, kofi, signin.ForPhone, signin.ByLink))
		require.Empty(t, try(boss, ben, signin.ForReset, signin.ByLink))
		require.Equal(t, "password-for-staff", try(ana, kofi, signin.ForPassword, signin.ByLink))
		require.Equal(t, "password-by-link", try(boss, ben, signin.ForPassword, signin.ByCode))
		require.Equal(t, "enrolment-unknown", try(ana, kofi, "house", signin.ByCode))
		require.Equal(t, "enrolment-unknown", try(ana, kofi, signin.ForPhone, "pigeon"))
		require.Equal(t, "person-without-role", try(ana, w.person("guest"), signin.ForPhone, signin.ByCode))
		w.change(kofi.ID, func(p *farm.Person) { p.Active = false })
		require.Equal(t, "person-disabled", try(ana, kofi, signin.ForPhone, signin.ByCode))
	})
}

func TestStaffEnrolTheirOwnPhoneWithTheirPassword(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		who := w.actor(w.signIn(p))
		_, err := w.s.MakeOwnEnrolment(ctx, who, other)
		require.Equal(t, "password-wrong", domain.CodeOf(err))
		made, err := w.s.MakeOwnEnrolment(ctx, who, password)
		require.NoError(t, err)
		in, err := w.handset().enrol(signin.Ticket{Secret: made.Secret})
		require.NoError(t, err)
		require.Equal(t, p.ID, w.actor(in).PersonID)
	})
}

func TestADisabledPersonsPhoneAndLinksAreOver(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.caretaker("kofi")
		h, in := w.enrolled(p)
		secret := w.make(p, signin.ForPhone, signin.ByLink).Secret
		w.change(p.ID, func(p *farm.Person) { p.Active = false })
		_, err := h.signIn()
		require.Equal(t, "device-revoked", domain.CodeOf(err))
		_, err = h.refresh(in)
		require.Error(t, err)
		_, _, err = w.s.Look(ctx, secret)
		require.Equal(t, "way-in-over", domain.CodeOf(err))
		_, err = w.handset().enrol(signin.Ticket{Secret: secret})
		require.Equal(t, "way-in-over", domain.CodeOf(err))
	})
}

func TestWhatHappensIsWrittenDown(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		in := w.signIn(p)
		h, _ := w.enrolled(p)
		require.NoError(t, w.s.RevokePhone(ctx, w.actor(in), p.ID, h.device))
		require.NoError(t, w.s.SignOut(ctx, in.Refresh))
		for _, line := range []string{"signed in", "phone enrolled", "a way in was made", "phone revoked", "signed out"} {
			require.Contains(t, w.log.String(), line)
		}
		for thing, id := range map[string]string{"session": in.SessionID, "phone": h.device} {
			lines, err := w.store.Audit(ctx, app.Everything, app.AuditQuery{Thing: thing, ThingID: id})
			require.NoError(t, err)
			require.Len(t, lines.Items, 2, thing) // in and out
		}
	})
}

func TestKeysThatAreGoneAreMissed(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		missing, err := w.s.CheckKeys(ctx)
		require.NoError(t, err)
		require.Empty(t, missing)
		in := w.signIn(w.advisor("ana"))

		rotated := w.service(quick, secretOf(2), secretOf(1))
		missing, err = rotated.CheckKeys(ctx)
		require.NoError(t, err)
		require.Empty(t, missing)
		next, err := rotated.Refresh(ctx, signin.Refresh{Cookie: in.Refresh})
		require.NoError(t, err, "sessions outlive a rotation")

		gone := w.service(quick, secretOf(3))
		missing, err = gone.CheckKeys(ctx)
		require.NoError(t, err)
		require.Len(t, missing, 2)
		_, err = gone.Refresh(ctx, signin.Refresh{Cookie: next.Refresh})
		require.Equal(t, "not-signed-in", domain.CodeOf(err))
	})
}

func TestPurge(t *testing.T) {
	each(t, func(t *testing.T, w *world) {
		p := w.advisor("ana")
		in := w.signIn(p)
		_, err := w.try(p, other, here, "")
		require.Error(t, err)
		h, _ := w.enrolled(p)
		rows, err := w.s.Purge(ctx)
		require.NoError(t, err)
		require.Zero(t, rows)
		w.actor(in)
		w.pass(200 * 24 * time.Hour)
		rows, err = w.s.Purge(ctx)
		require.NoError(t, err)
		require.Positive(t, rows)
		_, err = h.signIn()
		require.Error(t, err)
		w.signIn(p)
	})
}
