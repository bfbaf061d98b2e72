package signin

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// How long a way in is good, and how often it may be mistyped (ASVS 5.0.0
// 6.4.1, 6.5.5).
const (
	linkLife  = 48 * time.Hour
	codeLife  = 10 * time.Minute
	codeTries = 5
)

// MakeEnrolment asks for a way in for a person.
type MakeEnrolment struct {
	PersonID string
	Purpose  Purpose
	Kind     Kind
}

// Made is a way in that was made. Exactly one of Secret and Code is set, and this is
// the only time that anybody sees it.
type Made struct {
	ID      string
	Secret  string // 128 bits in base64url, for the fragment of a link
	Code    string // to be read out
	Expires time.Time
	Person  farm.Person
}

// MakeEnrolment makes a link or a code. It voids what was made before for the
// same purpose and is not spent. Staff make them for caretakers and owners
// that they may know of; for staff an administrator does, who thereby starts
// a reset and never sees or chooses the secret itself (ASVS 5.0.0 6.4.6).
func (s *Service) MakeEnrolment(ctx context.Context, who app.Actor, in MakeEnrolment) (Made, error) {
	p, err := s.store.Person(ctx, who.Scope(), in.PersonID)
	if err == nil {
		err = mayManage(who, p)
	}
	if err == nil {
		err = checkMake(p, in)
	}
	if err != nil {
		return Made{}, err
	}
	return s.make(ctx, who, p, in)
}

func checkMake(p farm.Person, in MakeEnrolment) error {
	staff := slices.ContainsFunc(p.Grants, func(g farm.Grant) bool { return g.Role.Staff() })
	switch {
	case in.Purpose != ForPhone && in.Purpose != ForPassword && in.Purpose != ForReset,
		in.Kind != ByLink && in.Kind != ByCode:
		return domain.Invalid("enrolment-unknown", "Say what it is for (phone, password or reset) and how it is handed over (link or code).")
	case !p.Active:
		return domain.Conflict("person-disabled", "This person is disabled. Enable them first.")
	case len(p.Grants) == 0:
		return domain.Conflict("person-without-role", "This person has no role, so there is nothing to sign in for. Give them a role first.")
	case in.Purpose != ForPhone && !staff:
		return domain.Conflict("password-for-staff", "Only staff have passwords. Enrol this person's phone instead.")
	case in.Purpose != ForPhone && in.Kind != ByLink:
		return domain.Invalid("password-by-link", "A password is set with a link. Codes are for phones.")
	}
	return nil
}

func (s *Service) make(ctx context.Context, who app.Actor, p farm.Person, in MakeEnrolment) (Made, error) {
	now := s.now()
	e := Enrolment{ID: s.newID(), PersonID: p.ID, Purpose: in.Purpose, Kind: in.Kind, MadeBy: who.PersonID, MadeAt: now}
	out := Made{ID: e.ID, Person: p}
	var err error
	if in.Kind == ByLink {
		out.Secret, err = newSecret()
		e.Secret, e.ExpiresAt = hashSecret(out.Secret), now.Add(linkLife)
	} else {
		out.Code, err = newCode()
		e.ExpiresAt = now.Add(codeLife)
	}
	if err != nil {
		return Made{}, err
	}
	out.Expires = e.ExpiresAt
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.VoidEnrolments(ctx, p.ID, in.Purpose, now); err != nil {
			return err
		}
		if in.Kind == ByCode {
			if out.Code, err = s.freeCode(ctx, now, out.Code); err != nil {
				return err
			}
			e.Handle, e.Secret = out.Code[:handleLength], s.stampCode(e.ID, out.Code)
		}
		if err := s.store.AddEnrolment(ctx, e); err != nil {
			return err
		}
		return s.record(ctx, now, who.PersonID, app.Change{
			Verb: "make", Thing: "enrolment", ThingID: e.ID,
			After: map[string]string{"person": p.ID, "purpose": string(in.Purpose), "kind": string(in.Kind)},
		})
	})
	if err != nil {
		return Made{}, err
	}
	s.log.InfoContext(ctx, "a way in was made", "by", who.PersonID, "person", p.ID, "purpose", in.Purpose, "kind", in.Kind)
	return out, nil
}

// freeCode draws again while another code that is still good has the handle.
func (s *Service) freeCode(ctx context.Context, now time.Time, code string) (string, error) {
	for range 20 {
		e, err := s.store.LockEnrolment(ctx, ByHandle, code[:handleLength])
		if domain.KindOf(err) == domain.KindNotFound {
			return code, nil
		}
		if err != nil {
			return "", err
		}
		if !now.Before(e.ExpiresAt) {
			e.Handle = ""
			return code, s.store.PutEnrolment(ctx, e)
		}
		if code, err = newCode(); err != nil {
			return "", err
		}
	}
	return "", &domain.Error{Kind: domain.KindBusy, Code: "too-many-codes", Text: "Too many codes are open just now. Wait ten minutes, or make a link."}
}

func (s *Service) stampCode(id, code string) string { return s.keys.Stamp("code", id+" "+code) }

func newSecret() (string, error) {
	raw := make([]byte, 16)
	_, err := rand.Read(raw)
	return base64.RawURLEncoding.EncodeToString(raw), err
}

// hashSecret is for secrets of 128 bits, which nobody can guess from it.
func hashSecret(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// MakeOwnEnrolment makes a link for another phone of one's own. The password
// is asked again; who has none asks the person who enrolled the first one.
func (s *Service) MakeOwnEnrolment(ctx context.Context, who app.Actor, password string) (Made, error) {
	if err := s.Confirm(ctx, who, password); err != nil {
		return Made{}, err
	}
	p, err := s.store.Person(ctx, app.Everything, who.PersonID)
	if err != nil {
		return Made{}, err
	}
	return s.make(ctx, who, p, MakeEnrolment{PersonID: p.ID, Purpose: ForPhone, Kind: ByLink})
}
