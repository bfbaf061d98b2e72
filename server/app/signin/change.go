package signin

import (
	"context"
	"time"
	"unicode/utf8"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// ChangePassword asks for the old password, holds the new one against the
// policy, and ends the person's other sessions. The mark it gives back keeps
// this browser a known one.
func (s *Service) ChangePassword(ctx context.Context, who app.Actor, old, next string) (browser string, err error) {
	d, err := s.confirm(ctx, who, old)
	if err != nil {
		return "", err
	}
	p, err := s.store.Person(ctx, app.Everything, who.PersonID)
	if err != nil {
		return "", err
	}
	pw, err := s.password(ctx, who.PersonID)
	if err != nil {
		return "", err
	}
	if err := s.checkNew(ctx, p, next, pw.TOTP != ""); err != nil {
		return "", err
	}
	now := s.now()
	hash, err := s.hash.Make(ctx, next)
	if err != nil {
		return "", err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		err := s.changePassword(ctx, who, func(pw *Password) error {
			if pw.TOTP == "" && short(next) {
				return domain.Conflict("code-app-gone", "The code app was taken away meanwhile. Choose a password of at least 15 characters.")
			}
			pw.Hash, pw.Short, pw.ChangedAt = hash, short(next), now
			return nil
		})
		if err != nil {
			return err
		}
		return s.factorChanged(ctx, now, who, "password-changed", d)
	})
	if err != nil {
		return "", err
	}
	return s.mark("", who.PersonID, now), nil
}

// SetPassword spends a link for a password. The name to sign in with is the
// person's e-mail, else their phone. All sessions end, and the count of wrong
// tries begins anew. It does not sign in.
func (s *Service) SetPassword(ctx context.Context, secret, password string) (login string, err error) {
	now := s.now()
	e, p, err := s.Look(ctx, secret)
	if err == nil && e.Purpose == ForPhone {
		err = wayOver()
	}
	if err != nil {
		return "", err
	}
	keeps, err := s.keepsCodeApp(ctx, e)
	if err != nil {
		return "", err
	}
	if err := s.checkNew(ctx, p, password, keeps); err != nil {
		return "", err
	}
	hash, err := s.hash.Make(ctx, password)
	if err != nil {
		return "", err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		e, err := s.findLink(ctx, secret)
		if err != nil {
			return err
		}
		if !e.open(now) {
			return wayOver()
		}
		e.SpentAt = now
		if err := s.store.PutEnrolment(ctx, e); err != nil {
			return err
		}
		login, err = s.set(ctx, now, p, hash, short(password), e.Purpose == ForReset)
		return err
	})
	if err != nil {
		return "", err
	}
	s.log.InfoContext(ctx, "password set by link", "person", p.ID, "made_by", e.MadeBy)
	return login, nil
}

func (s *Service) keepsCodeApp(ctx context.Context, e Enrolment) (bool, error) {
	pw, err := s.password(ctx, e.PersonID)
	if err != nil && domain.KindOf(err) != domain.KindNotFound {
		return false, err
	}
	return pw.TOTP != "" && e.Purpose == ForPassword, nil
}

// password is a person's as it stands now.
func (s *Service) password(ctx context.Context, personID string) (pw Password, err error) {
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		pw, err = s.store.LockPassword(ctx, personID)
		return err
	})
	return pw, err
}

// set writes a password in the transaction of ctx, and ends what was.
func (s *Service) set(ctx context.Context, now time.Time, p farm.Person, hash string, isShort, forgetCodeApp bool) (string, error) {
	pw, err := s.store.LockPassword(ctx, p.ID)
	if err != nil && domain.KindOf(err) != domain.KindNotFound {
		return "", err
	}
	if forgetCodeApp {
		pw.TOTP, pw.TOTPPending = "", ""
	}
	if isShort && pw.TOTP == "" {
		return "", domain.Conflict("code-app-gone", "The code app was taken away meanwhile. Choose a password of at least 15 characters.")
	}
	pw.PersonID, pw.Login, pw.Hash, pw.Short, pw.ChangedAt = p.ID, loginOf(p), hash, isShort, now
	if pw.Login == "" {
		return "", domain.Conflict("person-without-address", "This person has neither an e-mail nor a phone to sign in with. Add one first.")
	}
	if err := s.store.PutPassword(ctx, pw); err != nil {
		return "", err
	}
	if err := s.store.DropTries(ctx, s.accountDoor(pw.Login).scope); err != nil {
		return "", err
	}
	if _, err := s.store.EndSessions(ctx, EndFilter{PersonID: p.ID}, "password set", now); err != nil {
		return "", err
	}
	return pw.Login, s.record(ctx, now, p.ID, app.Change{Verb: "password-set", Thing: "person", ThingID: p.ID})
}

// GivePassword sets a ready password for a person without a link. It is for
// the server itself: the demo's people, and the administrator whom the
// first-run page makes, who has just typed it. The policy holds here too.
func (s *Service) GivePassword(ctx context.Context, who app.Actor, personID, password string) (login string, err error) {
	if !who.System {
		return "", domain.Forbidden("Nobody may choose another's password. Make a link instead.")
	}
	p, err := s.store.Person(ctx, app.Everything, personID)
	if err != nil {
		return "", err
	}
	if err := s.checkNew(ctx, p, password, false); err != nil {
		return "", err
	}
	hash, err := s.hash.Make(ctx, password)
	if err != nil {
		return "", err
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		login, err = s.set(ctx, s.now(), p, hash, false, true)
		return err
	})
	return login, err
}

// checkNew holds a new password against the policy, with the names around
// the person.
func (s *Service) checkNew(ctx context.Context, p farm.Person, password string, secondFactor bool) error {
	firm, err := s.store.Firm(ctx)
	if err != nil {
		return err
	}
	return newPolicy(secondFactor, firm.Name, p.Name, p.Email, p.Phone).check(password)
}

func short(password string) bool { return utf8.RuneCountInString(password) < minAlone }

// Confirm asks a signed-in member of staff for the password again, before
// something that a borrowed session must not do: a change of their phone
// number, e-mail or way of signing in (ASVS 5.0.0 7.5.1).
func (s *Service) Confirm(ctx context.Context, who app.Actor, password string) error {
	d, err := s.confirm(ctx, who, password)
	if err != nil {
		return err
	}
	now := s.now()
	return s.store.InTx(ctx, func(ctx context.Context) error { return s.forgive(ctx, now, d) })
}

// confirm leaves the try charged; the caller forgives it with what it does.
func (s *Service) confirm(ctx context.Context, who app.Actor, password string) (door, error) {
	d := door{scope: "confirm " + who.SessionID, limit: atConfirm}
	pw, err := s.password(ctx, who.PersonID)
	if domain.KindOf(err) == domain.KindNotFound {
		return d, domain.Conflict("no-password", "You sign in with your phone and have no password. Ask your administrator for a link if you need one.")
	}
	if err != nil {
		return d, err
	}
	if err := s.charge(ctx, s.now(), d); err != nil {
		return d, err
	}
	ok, _, err := s.hash.Check(ctx, password, pw.Hash)
	if err == nil && !ok {
		s.log.WarnContext(ctx, "password not confirmed", "person", who.PersonID, "session", who.SessionID)
		err = domain.Invalid("password-wrong", "This is not your password. Type the one that you sign in with.", domain.Field{Path: "password", Code: "password-wrong", Text: "not your password"})
	}
	return d, err
}
