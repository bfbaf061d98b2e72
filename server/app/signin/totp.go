package signin

import (
	"context"
	"crypto/subtle"
	"time"

	"tendfold/domain"
	"tendfold/server/app"

	"github.com/pquerna/otp"
	"github.com/pquerna/otp/totp"
)

// Code apps speak RFC 6238: SHA-1, six digits, steps of 30 seconds. The step
// before and the one after are taken too, for clocks that are a little off.
const (
	totpPeriod = 30
	totpSkew   = 1
)

var totpOpts = totp.ValidateOpts{Period: totpPeriod, Digits: otp.DigitsSix, Algorithm: otp.AlgorithmSHA1}

// stepOf is the time step whose code this is, newer than the last one used;
// 0 when it is none: a code works once (ASVS 5.0.0 6.5.1).
func stepOf(secret, code string, now time.Time, last int64) int64 {
	var found int64
	for step := now.Unix()/totpPeriod - totpSkew; step <= now.Unix()/totpPeriod+totpSkew; step++ {
		want, err := totp.GenerateCodeCustom(secret, time.Unix(step*totpPeriod, 0), totpOpts)
		if err == nil && subtle.ConstantTimeCompare([]byte(want), []byte(code)) == 1 && step > last {
			found = step
		}
	}
	return found
}

// secondFactor asks for the code when there is a code app, and uses it up.
func (s *Service) secondFactor(pw Password, code string, now time.Time) (Password, error) {
	if pw.TOTP == "" {
		return pw, nil
	}
	if code == "" {
		return pw, codeNeeded()
	}
	secret, err := s.keys.OpenField(pw.PersonID, pw.TOTP)
	if err != nil {
		return pw, &domain.Error{Kind: domain.KindInternal, Code: "code-app-sealed", Err: err}
	}
	step := stepOf(secret, code, now, pw.TOTPStep)
	if step == 0 {
		return pw, wrong()
	}
	pw.TOTPStep = step
	return pw, nil
}

// StartCodeApp makes the secret for a code app. It counts only after
// ConfirmCodeApp. The password is asked again (ASVS 5.0.0 7.5.1). uri is what
// the QR code shows.
func (s *Service) StartCodeApp(ctx context.Context, who app.Actor, password string) (secret, uri string, err error) {
	if _, err := s.confirm(ctx, who, password); err != nil {
		return "", "", err
	}
	firm, err := s.store.Firm(ctx)
	if err != nil {
		return "", "", err
	}
	issuer := firm.Name
	if issuer == "" {
		issuer = "Tendfold"
	}
	key, err := totp.Generate(totp.GenerateOpts{Issuer: issuer, AccountName: who.Name, Period: totpPeriod, SecretSize: 20})
	if err != nil {
		return "", "", &domain.Error{Kind: domain.KindInternal, Code: "code-app", Err: err}
	}
	err = s.changePassword(ctx, who, func(pw *Password) error {
		pw.TOTPPending = s.keys.SealField(pw.PersonID, key.Secret())
		return nil
	})
	return key.Secret(), key.URL(), err
}

// ConfirmCodeApp proves that the code app shows the right codes, from which
// on it is asked for, and ends the person's other sessions.
func (s *Service) ConfirmCodeApp(ctx context.Context, who app.Actor, code string) error {
	now := s.now()
	d := door{scope: "confirm " + who.SessionID, limit: atConfirm}
	if err := s.charge(ctx, now, d); err != nil {
		return err
	}
	return s.store.InTx(ctx, func(ctx context.Context) error {
		err := s.changePassword(ctx, who, func(pw *Password) error {
			secret, err := s.keys.OpenField(pw.PersonID, pw.TOTPPending)
			if pw.TOTPPending == "" || err != nil {
				return domain.Conflict("code-app-not-started", "Set the code app up first, then type the code that it shows.")
			}
			step := stepOf(secret, code, now, 0)
			if step == 0 {
				return domain.Invalid("code-wrong", "This is not the code that your app should show now. Check the phone's clock and type the newest code.", domain.Field{Path: "code", Code: "code-wrong", Text: "not the code of this moment"})
			}
			pw.TOTP, pw.TOTPPending, pw.TOTPStep = pw.TOTPPending, "", step
			return nil
		})
		if err != nil {
			return err
		}
		return s.factorChanged(ctx, now, who, "code-app-on", d)
	})
}

// RemoveCodeApp takes the second factor away from oneself. A password that is
// too short to stand alone has to be changed first.
func (s *Service) RemoveCodeApp(ctx context.Context, who app.Actor, password string) error {
	d, err := s.confirm(ctx, who, password)
	if err != nil {
		return err
	}
	now := s.now()
	return s.store.InTx(ctx, func(ctx context.Context) error {
		err := s.changePassword(ctx, who, func(pw *Password) error {
			if pw.Short {
				return domain.Conflict("password-too-short-alone", "Your password is good only together with the code app. Change it to one of at least 15 characters first.")
			}
			pw.TOTP, pw.TOTPPending = "", ""
			return nil
		})
		if err != nil {
			return err
		}
		return s.factorChanged(ctx, now, who, "code-app-off", d)
	})
}

// changePassword changes the locked row of the actor's own.
func (s *Service) changePassword(ctx context.Context, who app.Actor, change func(*Password) error) error {
	return s.store.InTx(ctx, func(ctx context.Context) error {
		pw, err := s.store.LockPassword(ctx, who.PersonID)
		if err != nil {
			return err
		}
		if err := change(&pw); err != nil {
			return err
		}
		return s.store.PutPassword(ctx, pw)
	})
}

// factorChanged follows a change of password or code app: other sessions end.
func (s *Service) factorChanged(ctx context.Context, now time.Time, who app.Actor, verb string, doors ...door) error {
	if err := s.forgive(ctx, now, doors...); err != nil {
		return err
	}
	if _, err := s.store.EndSessions(ctx, EndFilter{PersonID: who.PersonID, Keep: who.SessionID}, verb, now); err != nil {
		return err
	}
	s.log.InfoContext(ctx, "sign-in changed", "person", who.PersonID, "what", verb)
	return s.record(ctx, now, who.PersonID, app.Change{Verb: verb, Thing: "person", ThingID: who.PersonID})
}
