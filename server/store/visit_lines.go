package store

import (
	"context"

	"tendfold/domain/farm"
	"tendfold/server/app"

	"gorm.io/gorm"
)

// visitLineRow is a visit with what lists and rounds show of its farm.
type visitLineRow struct {
	Row           visitRow `gorm:"embedded"`
	Farm          string
	Town          string
	Landmark      string
	Lat           float64
	Lng           float64
	PositionKnown bool
	BranchID      string
	Officer       string
}

func (r visitLineRow) line() (app.VisitLine, error) {
	v, err := r.Row.visit()
	return app.VisitLine{
		Visit: v, Farm: r.Farm, Town: r.Town, Landmark: r.Landmark, BranchID: r.BranchID, Officer: r.Officer,
		Position: farm.Position{Lat: r.Lat, Lng: r.Lng, Known: r.PositionKnown},
	}, err
}

// VisitLines are the visits of a scope, by day.
func (s *Store) VisitLines(ctx context.Context, sc app.Scope, in app.VisitQuery) (app.Page[app.VisitLine], error) {
	limit, at := in.Limit, in.Cursor
	in.Limit, in.Cursor = 0, ""
	hash := queryHash([]any{"visits", in})
	key, later, err := decodeCursor[dueKey](at, hash)
	if err != nil {
		return app.Page[app.VisitLine]{}, err
	}
	cond, args := s.farmsOf(sc)
	q := s.reader(ctx).Table("visits v").
		Select("v.*, f.name AS farm, f.town, f.landmark, f.lat, f.lng, f.position_known, f.branch_id, COALESCE(p.name, '') AS officer").
		Joins("JOIN farms f ON f.id = v.farm_id LEFT JOIN people p ON p.id = v.officer_id").Where(cond, args...)
	q = visitsWhere(q, in)
	if later {
		q = q.Where("(v.on_date, v.id) > (?, ?)", key.On, key.ID)
	}
	return page(q.Order("v.on_date, v.id"), "visit", hash, limit,
		func(r visitLineRow) dueKey { return dueKey{r.Row.OnDate, r.Row.ID} }, visitLineRow.line)
}

func visitsWhere(q *gorm.DB, in app.VisitQuery) *gorm.DB {
	for _, w := range [...]struct{ column, value string }{
		{"v.id", in.ID}, {"v.officer_id", in.OfficerID}, {"v.farm_id", in.FarmID}, {"f.branch_id", in.Branch}, {"v.state", in.State},
	} { // in this order always: the statement is kept by its text
		if w.value != "" {
			q = q.Where(w.column+" = ?", w.value)
		}
	}
	if in.From != 0 {
		q = q.Where("v.on_date >= ?", in.From)
	}
	if in.To != 0 {
		q = q.Where("v.on_date <= ?", in.To)
	}
	return q
}
