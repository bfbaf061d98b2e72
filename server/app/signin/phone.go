package signin

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// EnrolPhone is a phone that presents itself: its ticket, its public key
// (JWK) and the proof that it holds the private one.
type EnrolPhone struct {
	Ticket  Ticket
	Key     string
	Proof   Proof
	Name    string   // what the phone calls itself
	Before  []string // ids under which this phone was enrolled before, for this person (a forgotten PIN) or others
	Agent   string
	Network string
}

// EnrolPhone spends the ticket, keeps the phone's key and signs it in. A
// phone that never got the answer sends the same again, with a fresh nonce,
// and is given it: the ticket is spent, but by this key.
func (s *Service) EnrolPhone(ctx context.Context, in EnrolPhone) (Signed, error) {
	now := s.now()
	key, public, err := parseKey(in.Key)
	if err != nil {
		return Signed{}, domain.Invalid("key-unreadable", "The phone sent a key that we cannot use: "+err.Error()+".")
	}
	until, err := s.freshNonce(in.Proof.Nonce, now)
	if err != nil {
		return Signed{}, err
	}
	if !verify(key, enrolling(public).statement(in.Proof.Nonce), in.Proof.Signature) {
		return Signed{}, notSignedIn()
	}
	if in.Ticket.Secret == "" {
		if err := s.charge(ctx, now, codeDoor(in.Network)); err != nil {
			return Signed{}, err
		}
	}
	return s.enrol(ctx, now, in, public.text(), until)
}

func (s *Service) enrol(ctx context.Context, now time.Time, in EnrolPhone, kept string, until time.Time) (out Signed, err error) {
	miss := false
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		var e Enrolment
		if e, miss, err = s.find(ctx, in.Ticket); err != nil || miss {
			return err
		}
		if err := s.spend(ctx, in.Proof.Nonce, until); err != nil {
			return err
		}
		p, d, err := s.claim(ctx, now, e, in, kept)
		if err != nil {
			return err
		}
		if in.Ticket.Secret == "" {
			if err := s.forgive(ctx, now, codeDoor(in.Network)); err != nil {
				return err
			}
		}
		out, err = s.begin(ctx, now, p, d.ID, in.Agent)
		return err
	})
	if err == nil && miss {
		err = wayOver()
	}
	if err != nil {
		s.log.WarnContext(ctx, "enrolling a phone was refused", "why", domain.CodeOf(err), "network", in.Network)
		return Signed{}, err
	}
	s.log.InfoContext(ctx, "phone enrolled", "person", out.Person.ID, "device", out.DeviceID, "network", in.Network)
	return out, nil
}

// claim turns the locked enrolment into a device, or finds the one that it
// was turned into when the answer got lost.
func (s *Service) claim(ctx context.Context, now time.Time, e Enrolment, in EnrolPhone, kept string) (farm.Person, Device, error) {
	p, err := s.store.Person(ctx, app.Everything, e.PersonID)
	if err != nil {
		return p, Device{}, err
	}
	if e.Purpose != ForPhone || !p.Active {
		return p, Device{}, wayOver()
	}
	if e.DeviceID != "" && now.Before(e.ExpiresAt) {
		d, err := s.store.LockDevice(ctx, e.DeviceID)
		if err == nil && (d.PublicKey != kept || !d.RevokedAt.IsZero()) {
			err = wayOver()
		}
		return p, d, err
	}
	if !e.open(now) {
		return p, Device{}, wayOver()
	}
	d := Device{ID: s.newID(), PersonID: p.ID, Name: shorten(in.Name, 80), PublicKey: kept, EnrolledAt: now, SeenAt: now}
	if err := s.store.AddDevice(ctx, d); err != nil {
		return p, d, err
	}
	e.SpentAt, e.DeviceID = now, d.ID
	if err := s.store.PutEnrolment(ctx, e); err != nil {
		return p, d, err
	}
	for _, before := range in.Before {
		if err := s.replace(ctx, now, p.ID, before); err != nil {
			return p, d, err
		}
	}
	return p, d, s.record(ctx, now, p.ID, app.Change{
		Verb: "enrol", Thing: "phone", ThingID: d.ID,
		After: map[string]string{"person": p.ID, "name": d.Name, "with": string(e.Kind), "made_by": e.MadeBy},
	})
}

// replace revokes what this phone was before, if it was this person's.
func (s *Service) replace(ctx context.Context, now time.Time, personID, deviceID string) error {
	d, err := s.store.LockDevice(ctx, deviceID)
	if domain.KindOf(err) == domain.KindNotFound || err == nil && d.PersonID != personID {
		return nil
	}
	if err != nil {
		return err
	}
	return s.revoke(ctx, now, d, "enrolled again", personID)
}

// SignInPhone starts a session of an enrolled phone: the key is all it needs.
// No count of wrong tries stands in its way, so no stranger can lock it.
func (s *Service) SignInPhone(ctx context.Context, deviceID string, proof Proof, agent string) (Signed, error) {
	now := s.now()
	if err := s.proved(ctx, now, deviceID, proof, signingIn(deviceID)); err != nil {
		return Signed{}, err
	}
	var out Signed
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		d, err := s.store.LockDevice(ctx, deviceID)
		if err != nil {
			return err
		}
		p, err := s.store.Person(ctx, app.Everything, d.PersonID)
		if err != nil {
			return err
		}
		if !p.Active || !d.RevokedAt.IsZero() {
			return deviceRevoked()
		}
		out, err = s.begin(ctx, now, p, deviceID, agent)
		return err
	})
	if err == nil {
		s.log.InfoContext(ctx, "phone signed in", "person", out.Person.ID, "device", deviceID, "session", out.SessionID)
	}
	return out, err
}
