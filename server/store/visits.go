package store

import (
	"context"
	"errors"

	"tendfold/domain/calendar"
	"tendfold/domain/visit"
	"tendfold/server/app"
)

type visitRow struct {
	ID        string
	FarmID    string
	OfficerID string
	OnDate    calendar.Date
	State     string
	Reasons   string
	Agenda    string
	Findings  string
	Missed    string
	DoneOn    calendar.Date
	Dealt     string
	PlannedBy string
	Version   int
}

func (visitRow) TableName() string { return "visits" }

func visitToRow(v app.Visit) visitRow {
	return visitRow{
		v.ID, v.FarmID, v.OfficerID, v.On, v.State, toJSON(v.Reasons), toJSON(v.Agenda), v.Findings, v.Missed, v.DoneOn, toJSON(v.Dealt), v.PlannedBy, 1,
	}
}

func (r visitRow) visit() (app.Visit, error) {
	reasons, err1 := fromJSON[[]visit.Scored](r.Reasons)
	agenda, err2 := fromJSON[[]visit.Task](r.Agenda)
	dealt, err3 := fromJSON[[]visit.Dealt](r.Dealt)
	return app.Visit{
		ID: r.ID, FarmID: r.FarmID, OfficerID: r.OfficerID, On: r.OnDate, State: r.State, Reasons: reasons, Agenda: agenda,
		Findings: r.Findings, Missed: r.Missed, DoneOn: r.DoneOn, Dealt: dealt, PlannedBy: r.PlannedBy, Version: r.Version,
	}, errors.Join(err1, err2, err3)
}

// AddVisits plans visits, or notes that they were made.
func (s *Store) AddVisits(ctx context.Context, vs ...app.Visit) error {
	return s.insert(ctx, "visit", each(vs, visitToRow))
}

// ChangeVisit writes a visit at its version.
func (s *Store) ChangeVisit(ctx context.Context, v app.Visit) error {
	r := visitToRow(v)
	return s.update(ctx, "visit", &visitRow{}, v.ID, v.Version, map[string]any{
		"officer_id": r.OfficerID, "on_date": r.OnDate, "state": r.State, "reasons": r.Reasons, "agenda": r.Agenda,
		"findings": r.Findings, "missed": r.Missed, "done_on": r.DoneOn, "dealt": r.Dealt,
	})
}

// Visit is the visit with this id, when the scope sees its farm.
func (s *Store) Visit(ctx context.Context, sc app.Scope, id string) (app.Visit, error) {
	r, err := one[visitRow](s.within(s.reader(ctx), sc, "visits.farm_id").Where("id = ?", id), "visit")
	if err != nil {
		return app.Visit{}, err
	}
	return r.visit()
}

type requestRow struct {
	ID         string
	FarmID     string
	PersonID   string
	OnDate     calendar.Date
	Text       string
	AnsweredOn calendar.Date
}

func (requestRow) TableName() string { return "visit_requests" }

func (r requestRow) request() app.VisitRequest {
	return app.VisitRequest{ID: r.ID, FarmID: r.FarmID, PersonID: r.PersonID, On: r.OnDate, Text: r.Text, AnsweredOn: r.AnsweredOn}
}

// AddVisitRequest notes the wish for a visit.
func (s *Store) AddVisitRequest(ctx context.Context, r app.VisitRequest) error {
	return s.insert(ctx, "visit request", []requestRow{{r.ID, r.FarmID, r.PersonID, r.On, r.Text, r.AnsweredOn}})
}

// AnswerVisitRequests notes that the open wishes of a farm were answered.
func (s *Store) AnswerVisitRequests(ctx context.Context, farmID string, on calendar.Date) error {
	return mapError(s.from(ctx).Model(&requestRow{}).Where("farm_id = ? AND answered_on = 0", farmID).
		Update("answered_on", on).Error, "visit request")
}

// VisitRequestsOf are the wishes of the farms, answered ones too, by farm and
// day.
func (s *Store) VisitRequestsOf(ctx context.Context, farmIDs []string) ([]app.VisitRequest, error) {
	cond, list := s.in("farm_id", farmIDs)
	return many(s.reader(ctx).Where(cond, list).Order("farm_id, on_date, id"), "visit request", requestRow.request)
}
