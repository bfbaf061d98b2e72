package signin

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/server/app"
	"tendfold/server/app/signin/keys"
)

// SessionLine is a session as its owner sees it in a list.
type SessionLine struct {
	ID        string    `json:"id"`
	DeviceID  string    `json:"device_id,omitempty"`
	Agent     string    `json:"agent"`
	StartedAt time.Time `json:"started_at"`
	SeenAt    time.Time `json:"seen_at"` // last renewed: within ten minutes of the last use
	ExpiresAt time.Time `json:"expires_at"`
	Current   bool      `json:"current"`
}

// Sessions are a person's live sessions, newest first: one's own, or those of
// somebody whom the actor may manage (ASVS 5.0.0 7.4.5, 7.5.2).
func (s *Service) Sessions(ctx context.Context, who app.Actor, personID string) ([]SessionLine, error) {
	if err := s.ownOrManaged(ctx, who, personID); err != nil {
		return nil, err
	}
	live, err := s.store.Sessions(ctx, personID, s.now())
	out := make([]SessionLine, 0, len(live))
	for _, x := range live {
		out = append(out, SessionLine{
			ID: x.ID, DeviceID: x.DeviceID, Agent: x.Agent,
			StartedAt: x.StartedAt, SeenAt: x.RotatedAt, ExpiresAt: x.ExpiresAt, Current: x.ID == who.SessionID,
		})
	}
	return out, err
}

// EndSession ends one session of a person.
func (s *Service) EndSession(ctx context.Context, who app.Actor, personID, sessionID string) error {
	n, err := s.endSome(ctx, who, EndFilter{PersonID: personID, ID: sessionID})
	if err == nil && n == 0 {
		return domain.NotFound("session")
	}
	return err
}

// EndOtherSessions ends all of one's own sessions but this one.
func (s *Service) EndOtherSessions(ctx context.Context, who app.Actor) error {
	_, err := s.endSome(ctx, who, EndFilter{PersonID: who.PersonID, Keep: who.SessionID})
	return err
}

// EndAllSessions ends all sessions of a person. The use case that disables a
// person calls it, so that enabling them again brings no old session back.
func (s *Service) EndAllSessions(ctx context.Context, who app.Actor, personID string) error {
	_, err := s.endSome(ctx, who, EndFilter{PersonID: personID})
	return err
}

func (s *Service) endSome(ctx context.Context, who app.Actor, f EndFilter) (n int, err error) {
	if err := s.ownOrManaged(ctx, who, f.PersonID); err != nil {
		return 0, err
	}
	now := s.now()
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if n, err = s.store.EndSessions(ctx, f, "ended by hand", now); err != nil || n == 0 {
			return err
		}
		return s.record(ctx, now, who.PersonID, app.Change{
			Verb: "end", Thing: "sessions", ThingID: f.PersonID, After: map[string]any{"session": f.ID, "count": n},
		})
	})
	if n > 0 && err == nil {
		s.log.InfoContext(ctx, "sessions ended", "by", who.PersonID, "person", f.PersonID, "count", n)
	}
	return n, err
}

// Purge deletes what signing in has no more use for; a job runs it daily.
func (s *Service) Purge(ctx context.Context) (rows int, err error) {
	now := s.now()
	day := 24 * time.Hour
	return s.store.PurgeSignIn(ctx, Purge{
		Now: now, Tries: now.Add(-30 * day), Sessions: now.Add(-90 * day), Ways: now.Add(-30 * day),
	})
}

// OutboxKey is the public key to which phones seal their outbox.
func (s *Service) OutboxKey() keys.OutboxKey { return s.keys.Outbox() }

// OpenOutbox opens an entry that a phone of the person sealed, whichever of
// their phones delivers it.
func (s *Service) OpenOutbox(sealed keys.Sealed, personID, entryID string) ([]byte, error) {
	plain, err := s.keys.OpenOutbox(sealed, []byte(personID+"\n"+entryID))
	if err != nil {
		return nil, &domain.Error{Kind: domain.KindInvalid, Code: "entry-sealed", Text: "This entry cannot be opened: it was changed on its way, is another person's, or its key is gone.", Err: err}
	}
	return plain, nil
}
