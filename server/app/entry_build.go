package app

import (
	"context"
	"fmt"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
)

// SnagEntry is the data of EntrySnag and, with the snag's id, of
// EntrySnagMended.
type SnagEntry struct {
	SnagID string `json:"snag_id,omitempty"`
	Text   string `json:"text,omitempty"`
}

func (s *Entries) snag(ctx context.Context, e *entry) error {
	in, err := decode[SnagEntry](e)
	if err != nil {
		return err
	}
	if e.UnitID == "" {
		return domain.Invalid("entry-refused", "Say which unit the snag is in.", domain.Field{Path: "unit_id", Code: "required", Text: "Name the unit."})
	}
	if in.Text == "" {
		return refuse("text", "required", "Say what is wrong with the build.")
	}
	if err := short("text", in.Text, maxNote); err != nil {
		return err
	}
	return s.store.AddSnags(ctx, Snag{ID: e.ID, FarmID: e.FarmID, UnitID: e.UnitID, Text: in.Text, FoundOn: e.On, Version: 1})
}

func (s *Entries) snagMended(ctx context.Context, e *entry) error {
	in, err := decode[SnagEntry](e)
	if err != nil {
		return err
	}
	n, err := s.store.Snag(ctx, e.who.Scope(), in.SnagID)
	if err != nil {
		return err
	}
	if n.FarmID != e.FarmID {
		return domain.NotFound("snag")
	}
	if !n.FixedOn.IsZero() {
		return domain.Conflict("snag-mended", fmt.Sprintf("This snag was put right on %s.", n.FixedOn))
	}
	n.FixedOn, n.FixedBy = e.On, e.who.PersonID
	return s.store.ChangeSnag(ctx, n)
}

// PauseEntry is the data of the entries about pauses. A pause starts on the
// entry's day; only work stops, living things go on.
type PauseEntry struct {
	PauseID string        `json:"pause_id,omitempty"`
	Until   calendar.Date `json:"until,omitempty"`
	Reason  string        `json:"reason,omitempty"`
}

// aloneDays is how long one person may pause a cycle; longer needs a second.
const aloneDays = 14

func (s *Entries) pause(ctx context.Context, e *entry) error {
	in, err := decode[PauseEntry](e)
	if err != nil {
		return err
	}
	if in.Reason == "" {
		return refuse("reason", "required", "Say why the work stops.")
	}
	if in.Until <= e.On || in.Until.Sub(e.On) > 366 {
		return refuse("until", "required", "Say until which day the work stops, within a year; the pause can be ended or renewed then.")
	}
	open, err := s.store.PausesOf(ctx, []string{e.CycleID})
	if err != nil {
		return err
	}
	for _, p := range open {
		if p.EndedOn.IsZero() || p.EndedOn > e.On {
			return domain.Conflict("paused-already", fmt.Sprintf("This cycle is paused since %s. End that pause first.", p.From))
		}
	}
	return s.store.AddPause(ctx, Pause{ID: e.ID, CycleID: e.CycleID, From: e.On, Until: in.Until, Reason: in.Reason, AskedBy: e.who.PersonID, Version: 1})
}

func (s *Entries) openPause(ctx context.Context, e *entry) (Pause, error) {
	in, err := decode[PauseEntry](e)
	if err != nil {
		return Pause{}, err
	}
	p, err := s.store.Pause(ctx, e.who.Scope(), in.PauseID)
	switch {
	case err != nil:
		return p, err
	case p.CycleID != e.CycleID:
		return p, domain.NotFound("pause")
	case !p.EndedOn.IsZero():
		return p, domain.Conflict("pause-ended", fmt.Sprintf("This pause ended on %s.", p.EndedOn))
	}
	return p, nil
}

func (s *Entries) pauseAgreed(ctx context.Context, e *entry) error {
	p, err := s.openPause(ctx, e)
	if err != nil {
		return err
	}
	if p.AskedBy == e.who.PersonID {
		return domain.Forbidden("A pause of more than 14 days needs a second person. Ask another manager to agree.")
	}
	p.AgreedBy = e.who.PersonID
	return s.store.ChangePause(ctx, p)
}

func (s *Entries) pauseEnded(ctx context.Context, e *entry) error {
	p, err := s.openPause(ctx, e)
	if err != nil {
		return err
	}
	if e.On < p.From {
		return domain.Invalid("entry-refused", "A pause cannot end before it began.", domain.Field{Path: "on", Code: "before-start", Text: fmt.Sprintf("It began on %s.", p.From)})
	}
	p.EndedOn = e.On
	return s.store.ChangePause(ctx, p)
}

// lasting is the pause as the programme counts it on a day: without a second
// person's yes it is over after two weeks.
func (p Pause) lasting(on calendar.Date) programme.Pause {
	out := programme.Pause{From: p.From, Until: p.Until, Ended: p.EndedOn}
	if limit := p.From.Add(aloneDays); p.AgreedBy == "" && on >= limit && (out.Ended == 0 || out.Ended > limit) {
		out.Ended = limit
	}
	return out
}
