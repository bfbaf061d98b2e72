package store

import (
	"cmp"
	"context"

	"tendfold/domain/calendar"
	"tendfold/server/app"
)

type snagRow struct {
	ID      string
	FarmID  string
	UnitID  string
	Text    string
	FoundOn calendar.Date
	FixedOn calendar.Date
	FixedBy string
	Version int
}

func (snagRow) TableName() string { return "snags" }

func (r snagRow) snag() app.Snag {
	return app.Snag{
		ID: r.ID, FarmID: r.FarmID, UnitID: r.UnitID, Text: r.Text,
		FoundOn: r.FoundOn, FixedOn: r.FixedOn, FixedBy: r.FixedBy, Version: r.Version,
	}
}

// AddSnags notes faults of the build.
func (s *Store) AddSnags(ctx context.Context, ns ...app.Snag) error {
	return s.insert(ctx, "snag", each(ns, func(n app.Snag) snagRow {
		return snagRow{n.ID, n.FarmID, n.UnitID, n.Text, n.FoundOn, n.FixedOn, n.FixedBy, 1}
	}))
}

// ChangeSnag writes a snag at its version.
func (s *Store) ChangeSnag(ctx context.Context, n app.Snag) error {
	return s.update(ctx, "snag", &snagRow{}, n.ID, n.Version, map[string]any{
		"text": n.Text, "found_on": n.FoundOn, "fixed_on": n.FixedOn, "fixed_by": n.FixedBy,
	})
}

// Snag is the snag with this id, when the scope sees its farm.
func (s *Store) Snag(ctx context.Context, sc app.Scope, id string) (app.Snag, error) {
	r, err := one[snagRow](s.within(s.reader(ctx), sc, "snags.farm_id").Where("id = ?", id), "snag")
	return r.snag(), err
}

// SnagsOf are the snags of the farms, fixed ones too, by farm and day.
func (s *Store) SnagsOf(ctx context.Context, farmIDs []string) ([]app.Snag, error) {
	return readOf(ctx, s, "snag", "snags", "farm_id", farmIDs, func(a, b snagRow) int {
		return cmp.Or(cmp.Compare(a.FarmID, b.FarmID), cmp.Compare(a.FoundOn, b.FoundOn), cmp.Compare(a.ID, b.ID))
	}, snagRow.snag)
}
