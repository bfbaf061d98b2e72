package signin

import (
	"context"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin/keys"
)

// How long a session lives. Staff: a working day at the desk without a word,
// a month in all. Phones: as long as they may stay without signal, and the
// phone then starts a new session with its key without asking anyone. The
// decision page says where this leaves NIST's advice and why.
const (
	staffIdle   = 12 * time.Hour
	staffLife   = 30 * 24 * time.Hour
	phoneLife   = 90 * 24 * time.Hour
	staffRetry  = 2 * time.Minute // for how long a lost answer may be asked for again
	maxSessions = 10              // of one person in browsers; the oldest ends
)

// Signed is a fresh sign-in or its renewal: what the answer and its cookie
// carry.
type Signed struct {
	Access    string // the access token, good for keys.AccessLife
	Refresh   string // the refresh token, for the cookie
	Until     time.Time
	SessionID string
	DeviceID  string
	Browser   string // the mark of a known browser, "" = leave as it is
	Person    farm.Person
}

// begin starts a session in the transaction of ctx.
func (s *Service) begin(ctx context.Context, now time.Time, p farm.Person, deviceID, agent string) (Signed, error) {
	x := Session{
		ID: s.newID(), PersonID: p.ID, DeviceID: deviceID, Generation: 1,
		RotatedAt: now, StartedAt: now, ExpiresAt: now.Add(staffLife), Agent: shorten(agent, 200),
	}
	if deviceID != "" {
		x.ExpiresAt = now.Add(phoneLife)
		if _, err := s.store.EndSessions(ctx, EndFilter{DeviceID: deviceID}, "signed in again", now); err != nil {
			return Signed{}, err
		}
	} else if err := s.makeRoom(ctx, now, p.ID); err != nil {
		return Signed{}, err
	}
	if err := s.store.AddSession(ctx, x); err != nil {
		return Signed{}, err
	}
	return s.signed(x, p, now)
}

// makeRoom ends the oldest browser sessions beyond the limit.
func (s *Service) makeRoom(ctx context.Context, now time.Time, personID string) error {
	live, err := s.store.Sessions(ctx, personID, now)
	if err != nil {
		return err
	}
	kept := 0
	for _, x := range live { // newest first
		if x.DeviceID != "" {
			continue
		}
		if kept++; kept < maxSessions {
			continue
		}
		if _, err := s.store.EndSessions(ctx, EndFilter{ID: x.ID}, "too many sessions", now); err != nil {
			return err
		}
	}
	return nil
}

func (s *Service) signed(x Session, p farm.Person, now time.Time) (Signed, error) {
	access, err := s.keys.MintAccess(keys.Access{PersonID: p.ID, SessionID: x.ID, DeviceID: x.DeviceID}, now)
	return Signed{
		Access:    access,
		Refresh:   s.keys.MintRefresh(keys.Refresh{SessionID: x.ID, Generation: x.Generation}),
		Until:     x.ExpiresAt,
		SessionID: x.ID, DeviceID: x.DeviceID, Person: p,
	}, err
}

// Authenticate turns an access token into the person who asks. The session,
// the person, the phone and the grants are read at each call, so that ending,
// disabling, revoking and a change of rights hold from the next request on.
func (s *Service) Authenticate(ctx context.Context, access string) (app.Actor, error) {
	now := s.now()
	a, err := s.keys.ReadAccess(access, now)
	if err != nil {
		s.log.DebugContext(ctx, "access token refused", "why", err.Error())
		return app.Actor{}, notSignedIn()
	}
	b, err := s.bearer(ctx, a.SessionID, now)
	if err != nil {
		return app.Actor{}, err
	}
	if b.Person.ID != a.PersonID || b.Session.DeviceID != a.DeviceID {
		return app.Actor{}, notSignedIn()
	}
	return app.Actor{
		PersonID: b.Person.ID, Name: b.Person.Name, Language: b.Person.Language, Grants: b.Person.Grants,
		SessionID: b.Session.ID, DeviceID: b.Session.DeviceID,
	}, nil
}

// bearer is the live session with that id and its person.
func (s *Service) bearer(ctx context.Context, sessionID string, now time.Time) (Bearer, error) {
	b, err := s.store.Bearer(ctx, sessionID)
	if domain.KindOf(err) == domain.KindNotFound {
		return Bearer{}, notSignedIn()
	}
	if err != nil {
		return Bearer{}, err
	}
	if b.DeviceRevoked || b.Session.DeviceID != "" && !b.Person.Active {
		return Bearer{}, deviceRevoked()
	}
	if !b.Session.live(now) || !b.Person.Active {
		return Bearer{}, notSignedIn()
	}
	return b, nil
}

// live says whether the session has neither ended nor run out. That it may be
// idle too long is looked at when it is renewed.
func (x Session) live(now time.Time) bool {
	return x.EndedAt.IsZero() && now.Before(x.ExpiresAt)
}

func shorten(text string, most int) string {
	text = strings.ToValidUTF8(strings.ReplaceAll(text, "\x00", ""), "")
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most])
	}
	return text
}
