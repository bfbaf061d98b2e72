package signin

import (
	"context"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
)

// pinTries is how many wrong PINs in a row a phone has before it wipes what
// is readable, and we revoke it (NIST SP 800-63B-4, activation secrets: 10).
const pinTries = 10

// Phones are the phones of a person that were not revoked: one's own, or
// those of somebody whom the actor may manage.
func (s *Service) Phones(ctx context.Context, who app.Actor, personID string) ([]Device, error) {
	if err := s.ownOrManaged(ctx, who, personID); err != nil {
		return nil, err
	}
	all, err := s.store.Devices(ctx, personID)
	return slices.DeleteFunc(all, func(d Device) bool { return !d.RevokedAt.IsZero() }), err
}

// RevokePhone takes a phone's key away and ends its sessions, at once.
func (s *Service) RevokePhone(ctx context.Context, who app.Actor, personID, deviceID string) error {
	return s.revokeSome(ctx, who, personID, func(d Device) bool { return d.ID == deviceID }, true)
}

// RevokePhones does so for all phones of a person.
func (s *Service) RevokePhones(ctx context.Context, who app.Actor, personID string) error {
	return s.revokeSome(ctx, who, personID, func(Device) bool { return true }, false)
}

func (s *Service) revokeSome(ctx context.Context, who app.Actor, personID string, pick func(Device) bool, must bool) error {
	if err := s.ownOrManaged(ctx, who, personID); err != nil {
		return err
	}
	now := s.now()
	return s.store.InTx(ctx, func(ctx context.Context) error {
		all, err := s.store.Devices(ctx, personID)
		if err != nil {
			return err
		}
		all = slices.DeleteFunc(all, func(d Device) bool { return !pick(d) })
		if must && len(all) == 0 {
			return domain.NotFound("phone")
		}
		for _, d := range all {
			if err := s.revoke(ctx, now, d, "revoked", who.PersonID); err != nil {
				return err
			}
		}
		return nil
	})
}

// revoke does it in the transaction of ctx; a phone that is revoked already
// stays as it is.
func (s *Service) revoke(ctx context.Context, now time.Time, d Device, why, by string) error {
	if !d.RevokedAt.IsZero() {
		return nil
	}
	d.RevokedAt = now
	if err := s.store.PutDevice(ctx, d); err != nil {
		return err
	}
	if _, err := s.store.EndSessions(ctx, EndFilter{DeviceID: d.ID}, "phone "+why, now); err != nil {
		return err
	}
	s.log.InfoContext(ctx, "phone revoked", "device", d.ID, "person", d.PersonID, "by", by, "why", why)
	return s.record(ctx, now, by, app.Change{Verb: "revoke", Thing: "phone", ThingID: d.ID, After: map[string]string{"person": d.PersonID, "why": why}})
}

// ReportPIN takes a phone's word that its PIN was wrong this many times in a
// row. The phone cannot sign then, so its cookie says which one it is. At ten
// the phone has wiped itself, and is revoked here too. On a phone that a
// family shares the cookie may be another's: then nothing is counted, for
// nobody's wrong PIN may lock somebody else out. deviceID is whose PIN it was,
// "" where the phone does not say.
func (s *Service) ReportPIN(ctx context.Context, cookie, deviceID string, failures int) error {
	token, err := s.keys.ReadRefresh(cookie)
	if err != nil {
		return notSignedIn()
	}
	now := s.now()
	b, err := s.bearer(ctx, token.SessionID, now)
	if err != nil {
		return err
	}
	if b.Session.DeviceID == "" {
		return domain.Conflict("no-phone", "This session is not of an enrolled phone.")
	}
	if deviceID != "" && deviceID != b.Session.DeviceID {
		return nil
	}
	return s.store.InTx(ctx, func(ctx context.Context) error {
		d, err := s.store.LockDevice(ctx, b.Session.DeviceID)
		if err != nil {
			return err
		}
		d.Failures = max(d.Failures, failures)
		s.log.WarnContext(ctx, "wrong PIN on a phone", "device", d.ID, "person", d.PersonID, "in_a_row", d.Failures)
		if d.Failures >= pinTries {
			return s.revoke(ctx, now, d, "wrong PIN too often", "")
		}
		return s.store.PutDevice(ctx, d)
	})
}

// ownOrManaged lets a person at their own things, and those who may manage
// the person.
func (s *Service) ownOrManaged(ctx context.Context, who app.Actor, personID string) error {
	if who.PersonID != "" && who.PersonID == personID {
		return nil
	}
	p, err := s.store.Person(ctx, who.Scope(), personID)
	if err != nil {
		return err
	}
	return mayManage(who, p)
}
