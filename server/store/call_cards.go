package store

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/domain/triage"
	"tendfold/server/app"

	"gorm.io/gorm/clause"
)

type callCardRow struct {
	CallID      string `gorm:"primaryKey"`
	FarmID      string
	Enterprise  string
	Sign        string
	CardVersion int
	Language    string
	Answers     string
	Ending      string
	Suspects    string
	Impact      string
	TimeToLoss  string
	Danger      bool
	Goes        string
	Sentences   string
	Why         string
	SentText    string
	TellBy      micros
	ToldAt      micros
	ToldBy      string
	ToldHow     string
}

func (callCardRow) TableName() string { return "call_cards" }

func (r callCardRow) card() (app.CallCard, error) {
	c := app.CallCard{
		CallID: r.CallID, FarmID: r.FarmID, Enterprise: r.Enterprise, Sign: r.Sign, Version: r.CardVersion, Language: r.Language,
		Ending: r.Ending, Impact: ticket.Impact(r.Impact), TimeToLoss: ticket.TimeToLoss(r.TimeToLoss), Danger: r.Danger,
		Go: triage.Going(r.Goes), Why: r.Why, SentText: r.SentText,
		TellBy: r.TellBy.time(), ToldAt: r.ToldAt.time(), ToldBy: r.ToldBy, ToldHow: r.ToldHow,
	}
	var err error
	if c.Answers, err = fromJSON[[]triage.Given](r.Answers); err != nil {
		return c, err
	}
	if c.Suspects, err = fromJSON[[]triage.Suspect](r.Suspects); err != nil {
		return c, err
	}
	c.Sentences, err = fromJSON[[]string](r.Sentences)
	return c, err
}

// PutCallCard notes what a card came to on a call. While the call goes on
// the card may go on too; a clock that was started is not set anew.
func (s *Store) PutCallCard(ctx context.Context, c app.CallCard) error {
	row := callCardRow{
		CallID: c.CallID, FarmID: c.FarmID, Enterprise: c.Enterprise, Sign: c.Sign, CardVersion: c.Version, Language: c.Language,
		Answers: toJSON(c.Answers), Ending: c.Ending, Suspects: toJSON(c.Suspects), Impact: string(c.Impact), TimeToLoss: string(c.TimeToLoss),
		Danger: c.Danger, Goes: string(c.Go), Sentences: toJSON(c.Sentences), Why: c.Why, SentText: c.SentText, TellBy: toMicros(c.TellBy),
	}
	return s.insert(ctx, "call card", []callCardRow{row}, clause.OnConflict{
		Columns: []clause.Column{{Name: "call_id"}},
		DoUpdates: clause.AssignmentColumns([]string{
			"enterprise", "sign", "card_version", "language", "answers", "ending", "suspects", "impact", "time_to_loss", "danger",
			"goes", "sentences", "why", "sent_text", "tell_by",
		}),
	})
}

// CallCardTold notes that the veterinary service was told.
func (s *Store) CallCardTold(ctx context.Context, callID, by, how string, at time.Time) error {
	res := s.from(ctx).Model(&callCardRow{}).Where("call_id = ? AND tell_by > 0 AND told_at = 0", callID).
		Updates(map[string]any{"told_at": toMicros(at), "told_by": by, "told_how": how})
	if res.Error == nil && res.RowsAffected == 0 {
		return domain.Conflict("told-already", "Nobody has to be told of this call, or it is on record already. Read the call again.")
	}
	return mapError(res.Error, "call card")
}

// addCardsOf puts the cards beside their calls.
func (s *Store) addCardsOf(ctx context.Context, calls []app.CallLine) error {
	cond, list := s.in("call_id", each(calls, func(c app.CallLine) string { return c.ID }))
	var rows []callCardRow
	if err := s.reader(ctx).Where(cond, list).Find(&rows).Error; err != nil {
		return mapError(err, "call card")
	}
	for _, r := range rows {
		card, err := r.card()
		if err != nil {
			return err
		}
		for i := range calls {
			if calls[i].ID == r.CallID {
				calls[i].Card = &card
			}
		}
	}
	return nil
}

// VetClocks are the cards of which the veterinary service has still to be
// told, the soonest first.
func (s *Store) VetClocks(ctx context.Context, sc app.Scope, limit int) ([]app.VetClock, error) {
	type row struct {
		CallID     string
		FarmID     string
		Farm       string
		BranchID   string
		Enterprise string
		Sign       string
		TellBy     micros
	}
	cond, args := s.farmsOf(sc)
	rows, err := read[row](ctx, s, "call card", "SELECT k.call_id, k.farm_id, f.name AS farm, f.branch_id, k.enterprise, k.sign, k.tell_by"+
		" FROM call_cards k JOIN farms f ON f.id = k.farm_id WHERE k.tell_by > 0 AND k.told_at = 0 AND "+cond+" ORDER BY k.tell_by, k.call_id LIMIT ?", append(args, limit)...)
	return each(rows, func(r row) app.VetClock {
		return app.VetClock{CallID: r.CallID, FarmID: r.FarmID, Farm: r.Farm, BranchID: r.BranchID, Enterprise: r.Enterprise, Sign: r.Sign, TellBy: r.TellBy.time()}
	}), err
}

type cardReviewRow struct {
	ID            string
	Enterprise    string
	Sign          string
	CardVersion   int
	Reviewer      string
	Qualification string
	SignedOn      calendar.Date
	Agrees        bool
	Note          string
	ByID          string
	At            micros
}

func (cardReviewRow) TableName() string { return "card_reviews" }

func (r cardReviewRow) review() app.CardReview {
	return app.CardReview{
		ID: r.ID, Enterprise: r.Enterprise, Sign: r.Sign, Version: r.CardVersion, Reviewer: r.Reviewer, Qualification: r.Qualification,
		SignedOn: r.SignedOn, Agrees: r.Agrees, Note: r.Note, ByID: r.ByID, At: r.At.time(),
	}
}

// AddCardReview notes a veterinarian's word.
func (s *Store) AddCardReview(ctx context.Context, r app.CardReview) error {
	return s.insert(ctx, "card review", []cardReviewRow{{
		r.ID, r.Enterprise, r.Sign, r.Version, r.Reviewer, r.Qualification, r.SignedOn, r.Agrees, r.Note, r.ByID, toMicros(r.At),
	}})
}

// CardReviews are all of them, the latest first.
func (s *Store) CardReviews(ctx context.Context) ([]app.CardReview, error) {
	return many(s.reader(ctx).Order("signed_on DESC, at DESC, id"), "card review", cardReviewRow.review)
}
