package signin

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
)

// Refresh renews a session. Cookie is the refresh token. A phone also sends
// Proof of its key over a fresh nonce: its cookie alone is worth nothing, so
// whoever has the phone but not its PIN gets nowhere.
type Refresh struct {
	Cookie string
	Proof  Proof
}

// verdict is what a refresh token is good for.
type verdict int

const (
	rotate verdict = iota // the newest one: the next follows
	repeat                // the one before: its answer was lost, the same is given again
	replay                // older: somebody kept a copy
	over                  // the session is
)

// judge decides on the token of a generation. A retry gets the same successor
// as long as that one is unused: from a browser for two minutes, from a phone
// that has proved its key at any time. A token from the future of this
// database was made before the database was restored from a backup: it is
// ours, so the session goes on from there.
func (x Session) judge(generation int64, now time.Time) verdict {
	phone := x.DeviceID != ""
	switch {
	case !x.live(now) || !phone && now.Sub(x.RotatedAt) > staffIdle:
		return over
	case generation >= x.Generation:
		return rotate
	case generation == x.Generation-1 && (phone || now.Sub(x.RotatedAt) <= staffRetry):
		return repeat
	}
	return replay
}

// Refresh answers with the next tokens of the session.
func (s *Service) Refresh(ctx context.Context, in Refresh) (Signed, error) {
	now := s.now()
	token, err := s.keys.ReadRefresh(in.Cookie)
	if err != nil {
		return Signed{}, notSignedIn()
	}
	b, err := s.bearer(ctx, token.SessionID, now)
	if err != nil {
		return Signed{}, err
	}
	if b.Session.DeviceID != "" {
		if err := s.proved(ctx, now, b.Session.DeviceID, in.Proof, refreshing(token.SessionID)); err != nil {
			return Signed{}, err
		}
	}
	var out Signed
	var v verdict
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		x, err := s.store.LockSession(ctx, token.SessionID)
		if err != nil {
			return err
		}
		if v, x, err = s.turn(ctx, x, token.Generation, now); err != nil || v > repeat {
			return err
		}
		out, err = s.signed(x, b.Person, now)
		return err
	})
	if err != nil {
		return Signed{}, err
	}
	if v > repeat {
		return Signed{}, notSignedIn()
	}
	return out, nil
}

// turn carries the verdict out on the locked session.
func (s *Service) turn(ctx context.Context, x Session, generation int64, now time.Time) (verdict, Session, error) {
	v := x.judge(generation, now)
	switch v {
	case rotate:
		x.Generation, x.RotatedAt = generation+1, now
		return v, x, s.store.PutSession(ctx, x)
	case replay:
		s.log.WarnContext(ctx, "an old refresh token was used, so its session was ended", "person", x.PersonID, "session", x.ID)
		return v, x, s.end(ctx, now, x, "an old token was used", "")
	case over:
		return v, x, s.end(ctx, now, x, "ran out", "")
	}
	return v, x, nil
}

// end ends one session and writes it down; by is "" for the server itself.
func (s *Service) end(ctx context.Context, now time.Time, x Session, why, by string) error {
	if !x.EndedAt.IsZero() {
		return nil
	}
	if _, err := s.store.EndSessions(ctx, EndFilter{ID: x.ID}, why, now); err != nil {
		return err
	}
	return s.record(ctx, now, by, app.Change{Verb: "end", Thing: "session", ThingID: x.ID, After: map[string]string{"person": x.PersonID, "why": why}})
}

// SignOut ends the session of a cookie. A cookie that is not good any more is
// no error: the person is signed out.
func (s *Service) SignOut(ctx context.Context, cookie string) error {
	token, err := s.keys.ReadRefresh(cookie)
	if err != nil {
		return nil // signed out already
	}
	now := s.now()
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		x, err := s.store.LockSession(ctx, token.SessionID)
		if err != nil {
			return err
		}
		s.log.InfoContext(ctx, "signed out", "person", x.PersonID, "session", x.ID)
		return s.end(ctx, now, x, "signed out", x.PersonID)
	})
	if domain.KindOf(err) == domain.KindNotFound {
		return nil
	}
	return err
}
