package store

import (
	"context"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"

	"gorm.io/gorm/clause"
)

type branchRow struct {
	ID         string
	Name       string
	Folded     string
	TimeZone   string
	Country    string
	StartLat   float64
	StartLng   float64
	StartKnown bool
	StartAt    string
	Hours      string
	Version    int
}

func (branchRow) TableName() string { return "branches" }

func branchToRow(b farm.Branch) branchRow {
	return branchRow{
		ID: b.ID, Name: b.Name, Folded: register.Fold(b.Name), TimeZone: b.Zone, Country: b.Country,
		StartLat: b.Start.Lat, StartLng: b.Start.Lng, StartKnown: b.Start.Known, StartAt: b.StartAt,
		Hours: toJSON(b.Hours), Version: 1,
	}
}

func (r branchRow) branch() (farm.Branch, error) {
	hours, err := fromJSON[[7]farm.Span](r.Hours)
	return farm.Branch{
		ID: r.ID, Name: r.Name, Zone: r.TimeZone, Country: r.Country,
		Start:   farm.Position{Lat: r.StartLat, Lng: r.StartLng, Known: r.StartKnown},
		StartAt: r.StartAt, Hours: hours, Version: r.Version,
	}, err
}

// Branches are all branches by name.
func (s *Store) Branches(ctx context.Context) ([]farm.Branch, error) {
	return manyOr(s.reader(ctx).Order("folded"), "branch", branchRow.branch)
}

// Branch is the branch with this id.
func (s *Store) Branch(ctx context.Context, id string) (farm.Branch, error) {
	r, err := readOne[branchRow](ctx, s, "branch", selectOf[branchRow]("b")+" FROM branches b WHERE b.id = ?", id)
	if err != nil {
		return farm.Branch{}, err
	}
	return r.branch()
}

// AddBranches makes branches; two of one folded name are a conflict.
func (s *Store) AddBranches(ctx context.Context, bs ...farm.Branch) error {
	return s.insert(ctx, "branch", each(bs, branchToRow))
}

// ChangeBranch writes a branch at its version.
func (s *Store) ChangeBranch(ctx context.Context, b farm.Branch) error {
	r := branchToRow(b)
	return s.update(ctx, "branch", &branchRow{}, b.ID, b.Version, map[string]any{
		"name": r.Name, "folded": r.Folded, "time_zone": r.TimeZone, "country": r.Country, "start_lat": r.StartLat,
		"start_lng": r.StartLng, "start_known": r.StartKnown, "start_at": r.StartAt, "hours": r.Hours,
	})
}

// BranchRules is what a branch says otherwise than the packs do; the zero
// value when it says nothing.
func (s *Store) BranchRules(ctx context.Context, id string) (app.BranchRules, error) {
	r, err := one[branchRulesRow](s.reader(ctx).Where("id = ?", id), "branch")
	if err != nil {
		return app.BranchRules{}, err
	}
	return fromJSON[app.BranchRules](r.Rules)
}

// SetBranchRules writes what a branch says otherwise, at the branch's
// version.
func (s *Store) SetBranchRules(ctx context.Context, id string, version int, rules app.BranchRules) error {
	return s.update(ctx, "branch", &branchRow{}, id, version, map[string]any{"rules": toJSON(rules)})
}

// branchRulesRow is the part of a branch that only the rules need.
type branchRulesRow struct {
	ID    string
	Rules string
}

func (branchRulesRow) TableName() string { return "branches" }

type holidayRow struct {
	BranchID string        `gorm:"primaryKey"`
	OnDate   calendar.Date `gorm:"primaryKey;autoIncrement:false"`
	Name     string
	Works    bool
}

func (holidayRow) TableName() string { return "holidays" }

// HolidayEdits are what people said about single days, by branch, in order.
func (s *Store) HolidayEdits(ctx context.Context) (map[string][]calendar.Edit, error) {
	var rows []holidayRow
	if err := s.reader(ctx).Order("branch_id, on_date").Find(&rows).Error; err != nil {
		return nil, mapError(err, "holiday")
	}
	out := map[string][]calendar.Edit{}
	for _, r := range rows {
		out[r.BranchID] = append(out[r.BranchID], calendar.Edit{On: r.OnDate, Name: r.Name, Works: r.Works})
	}
	return out, nil
}

// EditHoliday says what a day is at a branch, in place of what was said
// before.
func (s *Store) EditHoliday(ctx context.Context, branchID string, e calendar.Edit) error {
	return s.insert(ctx, "holiday", []holidayRow{{branchID, e.On, e.Name, e.Works}}, clause.OnConflict{
		Columns:   []clause.Column{{Name: "branch_id"}, {Name: "on_date"}},
		DoUpdates: clause.AssignmentColumns([]string{"name", "works"}),
	})
}

// RemoveHolidayEdit takes back what was said about a day.
func (s *Store) RemoveHolidayEdit(ctx context.Context, branchID string, on calendar.Date) error {
	res := s.from(ctx).Where("branch_id = ? AND on_date = ?", branchID, on).Delete(&holidayRow{})
	return found(res, "holiday")
}
