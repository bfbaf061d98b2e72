package store

import (
	"context"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type promiseRow struct {
	ID      string
	CallID  string
	FarmID  string
	Kind    string
	Text    string
	DueOn   calendar.Date
	KeptOn  calendar.Date
	KeptBy  string
	MadeBy  string
	MadeOn  calendar.Date
	Version int
}

func (promiseRow) TableName() string { return "promises" }

func (r promiseRow) promise() app.Promise {
	return app.Promise{
		ID: r.ID, CallID: r.CallID, FarmID: r.FarmID, Kind: r.Kind, Text: r.Text, DueOn: r.DueOn,
		KeptOn: r.KeptOn, KeptBy: r.KeptBy, MadeBy: r.MadeBy, MadeOn: r.MadeOn, Version: r.Version,
	}
}

// AddPromises notes promises.
func (s *Store) AddPromises(ctx context.Context, ps ...app.Promise) error {
	return s.insert(ctx, "promise", each(ps, func(p app.Promise) promiseRow {
		return promiseRow{p.ID, p.CallID, p.FarmID, p.Kind, p.Text, p.DueOn, p.KeptOn, p.KeptBy, p.MadeBy, p.MadeOn, 1}
	}))
}

// ChangePromise writes a promise at its version.
func (s *Store) ChangePromise(ctx context.Context, p app.Promise) error {
	return s.update(ctx, "promise", &promiseRow{}, p.ID, p.Version, map[string]any{
		"kind": p.Kind, "text": p.Text, "due_on": p.DueOn, "kept_on": p.KeptOn, "kept_by": p.KeptBy,
	})
}

// Promise is the promise with this id, when the scope sees its farm.
func (s *Store) Promise(ctx context.Context, sc app.Scope, id string) (app.Promise, error) {
	r, err := one[promiseRow](s.within(s.reader(ctx), sc, "promises.farm_id").Where("id = ?", id), "promise")
	return r.promise(), err
}

// PromisesOf are the promises to the farms, kept ones too, by farm and due
// day.
func (s *Store) PromisesOf(ctx context.Context, farmIDs []string) ([]app.Promise, error) {
	cond, list := s.in("farm_id", farmIDs)
	return many(s.reader(ctx).Where(cond, list).Order("farm_id, due_on, id"), "promise", promiseRow.promise)
}
