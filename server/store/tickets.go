package store

import (
	"context"
	"errors"
	"math"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
	"tendfold/server/app"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type ticketRow struct {
	ID           string
	FarmID       string
	UnitID       string
	CycleID      string
	Rule         string
	Subject      string
	Seq          int
	Year         int
	Origin       string
	Title        string
	State        string
	WaitingOn    string
	HolderID     string
	Impact       string
	TimeToLoss   string
	Urgency      string
	Rank         int
	OpenedOn     calendar.Date
	OpenedAt     micros
	FirstWordBy  micros
	PlanBy       micros
	DueAt        micros
	FirstWordAt  micros
	SettledAt    micros
	SettledOn    calendar.Date
	SettledBy    string
	Outcome      string
	Reasons      string
	FirstReasons string
	GoneOn       calendar.Date
	RestsUntil   calendar.Date
	Reopened     string
	KeepsComing  bool
	PreviousID   string
	JoinedInto   string
	CallID       string
	VisitID      string
	WorseAt      float64
	TouchedAt    micros
	Version      int
}

func (ticketRow) TableName() string { return "tickets" }

func ticketToRow(t ticket.Ticket) ticketRow {
	return ticketRow{
		ID: t.ID, FarmID: t.FarmID, UnitID: t.UnitID, CycleID: t.CycleID, Rule: t.Rule, Subject: t.Subject, Seq: t.Seq, Year: t.Year,
		Origin: string(t.Origin), Title: t.Title, State: string(t.State), WaitingOn: string(t.WaitingOn), HolderID: t.HolderID,
		Impact: string(t.Impact), TimeToLoss: string(t.TimeToLoss), Urgency: string(t.Urgency), Rank: t.Urgency.Rank(),
		OpenedOn: t.OpenedOn, OpenedAt: toMicros(t.OpenedAt), FirstWordBy: toMicros(t.FirstWordBy), PlanBy: toMicros(t.PlanBy),
		DueAt: dueAt(t), FirstWordAt: toMicros(t.FirstWordAt), SettledAt: toMicros(t.SettledAt), SettledOn: t.SettledOn,
		SettledBy: t.SettledBy, Outcome: t.Outcome, Reasons: saidOf(t), FirstReasons: toJSON(t.FirstReason),
		GoneOn: t.GoneOn, RestsUntil: t.RestsUntil, Reopened: toJSON(t.Reopened), KeepsComing: t.KeepsComing,
		PreviousID: t.PreviousID, JoinedInto: t.JoinedInto, CallID: t.CallID, VisitID: t.VisitID, WorseAt: t.WorseAt,
		TouchedAt: toMicros(t.OpenedAt), Version: 1,
	}
}

// notDue is the due time of a ticket that wants nothing: it comes last among
// those of its urgency.
const notDue micros = math.MaxInt64

// saidOf is a ticket's reasons as they are stored.
func saidOf(t ticket.Ticket) string {
	if t.Said != "" && t.Reasons == nil {
		return t.Said
	}
	return toJSON(t.Reasons)
}

// dueAt is by when something must happen next.
func dueAt(t ticket.Ticket) micros {
	if what, by := t.Wants(); what != "" {
		return toMicros(by)
	}
	return notDue
}

func (r ticketRow) ticket() (ticket.Ticket, error) {
	t, err3 := r.bare()
	var err1, err2 error
	t.Said = ""
	t.Reasons, err1 = fromJSON[[]domain.Reason](r.Reasons)
	t.FirstReason, err2 = fromJSON[[]domain.Reason](r.FirstReasons)
	return t, errors.Join(err1, err2, err3)
}

// bare is the ticket with its reasons as they are stored.
func (r ticketRow) bare() (ticket.Ticket, error) {
	reopened := []calendar.Date{}
	var err error
	if r.Reopened != "[]" {
		reopened, err = fromJSON[[]calendar.Date](r.Reopened)
	}
	return ticket.Ticket{
		ID: r.ID, Key: ticket.Key{FarmID: r.FarmID, UnitID: r.UnitID, CycleID: r.CycleID, Rule: r.Rule, Subject: r.Subject},
		Seq: r.Seq, Year: r.Year, Number: ticket.Number(r.Seq, r.Year), Origin: ticket.Origin(r.Origin), Title: r.Title,
		State: ticket.State(r.State), WaitingOn: ticket.WaitingOn(r.WaitingOn), HolderID: r.HolderID,
		Impact: ticket.Impact(r.Impact), TimeToLoss: ticket.TimeToLoss(r.TimeToLoss), Urgency: ticket.Urgency(r.Urgency),
		OpenedOn: r.OpenedOn, OpenedAt: r.OpenedAt.time(), FirstWordBy: r.FirstWordBy.time(), PlanBy: r.PlanBy.time(),
		FirstWordAt: r.FirstWordAt.time(), SettledAt: r.SettledAt.time(), SettledOn: r.SettledOn, SettledBy: r.SettledBy,
		Outcome: r.Outcome, Said: r.Reasons, GoneOn: r.GoneOn, RestsUntil: r.RestsUntil, Reopened: reopened,
		KeepsComing: r.KeepsComing, PreviousID: r.PreviousID, JoinedInto: r.JoinedInto, CallID: r.CallID, VisitID: r.VisitID,
		WorseAt: r.WorseAt, Version: r.Version,
	}, err
}

// openTicket is the partial index that keeps one open ticket for one key, as
// ON CONFLICT must name it; both dialects want its condition word for word.
var openTicket = clause.OnConflict{
	Columns:     []clause.Column{{Name: "farm_id"}, {Name: "unit_id"}, {Name: "cycle_id"}, {Name: "rule"}, {Name: "subject"}},
	TargetWhere: clause.Where{Exprs: []clause.Expression{gorm.Expr("state <> 'settled' AND rule <> ''")}},
	DoNothing:   true,
}

// OpenTicket opens a ticket under the next number of its Year, whatever number
// it came with. When its rule has an open ticket for the same key already,
// that one is returned and opened is false, however many sweeps run at once.
func (s *Store) OpenTicket(ctx context.Context, t ticket.Ticket) (got ticket.Ticket, opened bool, err error) {
	err = s.InTx(ctx, func(ctx context.Context) error {
		if got, err = s.OpenTicketOf(ctx, t.Key); domain.KindOf(err) != domain.KindNotFound {
			return err
		}
		if t.Seq, err = s.takeNumber(ctx, t.Year); err != nil {
			return err
		}
		t.Number, t.Version = ticket.Number(t.Seq, t.Year), 1
		if opened, err = s.insertTicket(ctx, t); err != nil || opened {
			got = t
			return err
		}
		if err := s.giveNumberBack(ctx, t.Year); err != nil {
			return err
		}
		got, err = s.OpenTicketOf(ctx, t.Key)
		return err
	})
	return got, opened, err
}

// insertTicket says false when another has opened one for the same key.
func (s *Store) insertTicket(ctx context.Context, t ticket.Ticket) (bool, error) {
	row := []ticketRow{ticketToRow(t)}
	if err := storableRows(row); err != nil {
		return false, err
	}
	res := s.from(ctx).Clauses(openTicket).Create(&row)
	return res.RowsAffected == 1, mapError(res.Error, "ticket")
}

// takeNumber is the next number of a year. The row stays locked until the
// transaction ends, so numbers have no gaps.
func (s *Store) takeNumber(ctx context.Context, year int) (int, error) {
	var last int
	err := s.from(ctx).Raw("INSERT INTO ticket_numbers (year, last) VALUES (?, 1) ON CONFLICT (year) DO UPDATE SET last = ticket_numbers.last + 1 RETURNING last", year).Scan(&last).Error
	return last, mapError(err, "ticket")
}

func (s *Store) giveNumberBack(ctx context.Context, year int) error {
	return mapError(s.from(ctx).Exec("UPDATE ticket_numbers SET last = last - 1 WHERE year = ?", year).Error, "ticket")
}

// OpenTicketOf is the open ticket of a rule's key, or a not-found error.
func (s *Store) OpenTicketOf(ctx context.Context, k ticket.Key) (ticket.Ticket, error) {
	if k.Rule == "" {
		return ticket.Ticket{}, domain.NotFound("ticket")
	}
	r, err := one[ticketRow](s.from(ctx).Where("farm_id = ? AND unit_id = ? AND cycle_id = ? AND rule = ? AND subject = ? AND state <> 'settled' AND rule <> ''",
		k.FarmID, k.UnitID, k.CycleID, k.Rule, k.Subject), "ticket")
	if err != nil {
		return ticket.Ticket{}, err
	}
	return r.ticket()
}

// ChangeTicket writes a ticket at its version; key, number, origin and
// opening stay. To reopen one while another is open for the same key is a
// conflict.
func (s *Store) ChangeTicket(ctx context.Context, t ticket.Ticket) error {
	r := ticketToRow(t)
	return s.update(ctx, "ticket", &ticketRow{}, t.ID, t.Version, map[string]any{
		"title": r.Title, "state": r.State, "waiting_on": r.WaitingOn, "holder_id": r.HolderID, "impact": r.Impact,
		"time_to_loss": r.TimeToLoss, "urgency": r.Urgency, "rank": r.Rank, "first_word_by": r.FirstWordBy, "plan_by": r.PlanBy,
		"due_at": r.DueAt, "first_word_at": r.FirstWordAt, "settled_at": r.SettledAt, "settled_on": r.SettledOn,
		"settled_by": r.SettledBy, "outcome": r.Outcome, "reasons": r.Reasons, "gone_on": r.GoneOn, "rests_until": r.RestsUntil,
		"reopened": r.Reopened, "keeps_coming": r.KeepsComing, "previous_id": r.PreviousID, "joined_into": r.JoinedInto,
		"call_id": r.CallID, "visit_id": r.VisitID, "worse_at": r.WorseAt,
	})
}

// Ticket is the ticket with this id, when the scope sees its farm.
func (s *Store) Ticket(ctx context.Context, sc app.Scope, id string) (app.TicketLine, error) {
	return s.ticketLine(ctx, sc, "t.id = ?", id)
}

// TicketByNumber is the ticket with this number, when the scope sees its
// farm.
func (s *Store) TicketByNumber(ctx context.Context, sc app.Scope, seq, year int) (app.TicketLine, error) {
	return s.ticketLine(ctx, sc, "t.seq = ? AND t.year = ?", seq, year)
}

func (s *Store) ticketLine(ctx context.Context, sc app.Scope, where string, args ...any) (app.TicketLine, error) {
	cond, scoped := s.farmsOf(sc)
	r, err := one[ticketLineRow](s.ticketLines(ctx).Where(where, args...).Where(cond, scoped...), "ticket")
	if err != nil {
		return app.TicketLine{}, err
	}
	return r.line()
}

// TicketsOf are the tickets of the farms that are open or were settled on or
// after a day, by farm and opening.
func (s *Store) TicketsOf(ctx context.Context, farmIDs []string, settledSince calendar.Date) ([]ticket.Ticket, error) {
	cond, list := s.in("farm_id", farmIDs)
	q := s.reader(ctx).Where(cond, list).Where("state <> 'settled' OR settled_on >= ?", settledSince)
	return manyOr(q.Order("farm_id, opened_at, id"), "ticket", ticketRow.ticket)
}

// touchTicket notes that a person dealt with a ticket; time only moves
// forward.
func (s *Store) touchTicket(ctx context.Context, id string, at time.Time) error {
	return mapError(s.from(ctx).Model(&ticketRow{}).Where("id = ? AND touched_at < ?", id, toMicros(at)).
		Update("touched_at", toMicros(at)).Error, "ticket")
}
