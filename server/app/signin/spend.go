package signin

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// Ticket is what a person holds to get in: the secret of a link, or a code
// that was read out to them.
type Ticket struct {
	Secret string
	Code   string
}

// wayOver is the one answer to a link or code that is wrong, spent, void or
// too old.
func wayOver() error {
	return &domain.Error{Kind: domain.KindUnauthenticated, Code: "way-in-over", Text: "This link or code is wrong, used up or too old. Ask the person who gave it to you for a new one."}
}

// Look says for whom a link is, before they press the button that spends it.
// Codes have no look: each question would be a try.
func (s *Service) Look(ctx context.Context, secret string) (Enrolment, farm.Person, error) {
	now := s.now()
	var e Enrolment
	err := s.store.InTx(ctx, func(ctx context.Context) (err error) {
		e, err = s.findLink(ctx, secret)
		return err
	})
	if err == nil && !e.open(now) {
		err = wayOver()
	}
	if err != nil {
		return Enrolment{}, farm.Person{}, err
	}
	p, err := s.store.Person(ctx, app.Everything, e.PersonID)
	if err == nil && !p.Active {
		err = wayOver()
	}
	return e, p, err
}

// open says whether the way in may still be spent.
func (e Enrolment) open(now time.Time) bool {
	return e.SpentAt.IsZero() && now.Before(e.ExpiresAt) && e.Failures < codeTries
}

// find locks the enrolment of a ticket. A wrong code is counted against the
// enrolment whose handle it names; miss says that it was, and that the
// transaction must be kept.
func (s *Service) find(ctx context.Context, t Ticket) (e Enrolment, miss bool, err error) {
	if t.Secret != "" {
		e, err = s.findLink(ctx, t.Secret)
		return e, false, err
	}
	code := parseCode(t.Code)
	if code == "" {
		return Enrolment{}, false, wayOver()
	}
	e, err = s.store.LockEnrolment(ctx, ByHandle, code[:handleLength])
	if domain.KindOf(err) == domain.KindNotFound {
		return Enrolment{}, false, wayOver()
	}
	if err != nil || s.keys.Stamped(e.Secret, "code", e.ID+" "+code) {
		return e, false, err
	}
	e.Failures++
	return e, true, s.store.PutEnrolment(ctx, e)
}

func (s *Service) findLink(ctx context.Context, secret string) (Enrolment, error) {
	e, err := s.store.LockEnrolment(ctx, BySecret, hashSecret(secret))
	if domain.KindOf(err) == domain.KindNotFound {
		return Enrolment{}, wayOver()
	}
	return e, err
}

// codeDoor is the count of spoken codes tried from a network.
func codeDoor(network string) door {
	return door{scope: "code@" + network, limit: atCode, shared: true}
}
