package store

import (
	"context"

	"tendfold/domain"
	"tendfold/domain/farm"
)

type firmRow struct {
	ID       int `gorm:"autoIncrement:false"`
	Name     string
	Language string
	TimeZone string
	Currency string
	SetUp    bool
	Version  int
}

func (firmRow) TableName() string { return "firms" }

// Firm is the firm; before the first SaveFirm it is what a firm starts from,
// with Version 0.
func (s *Store) Firm(ctx context.Context) (farm.Firm, error) {
	var rows []firmRow
	if err := s.reader(ctx).Find(&rows).Error; err != nil {
		return farm.Firm{}, mapError(err, "firm")
	}
	if len(rows) == 0 {
		return farm.Firm{Language: "en", Zone: "UTC", Currency: "XAF"}, nil
	}
	r := rows[0]
	return farm.Firm{Name: r.Name, Language: r.Language, Zone: r.TimeZone, Currency: r.Currency, SetUp: r.SetUp, Version: r.Version}, nil
}

// SaveFirm makes the firm when its Version is 0 (stale when somebody else has
// made it meanwhile), and changes it at that version otherwise.
func (s *Store) SaveFirm(ctx context.Context, f farm.Firm) error {
	if f.Version == 0 {
		rows := []firmRow{{ID: 1, Name: f.Name, Language: f.Language, TimeZone: f.Zone, Currency: f.Currency, SetUp: f.SetUp, Version: 1}}
		err := s.insert(ctx, "firm", rows)
		if domain.KindOf(err) == domain.KindConflict {
			return domain.Stale()
		}
		return err
	}
	return s.update(ctx, "firm", &firmRow{}, "1", f.Version, map[string]any{
		"name": f.Name, "language": f.Language, "time_zone": f.Zone, "currency": f.Currency, "set_up": f.SetUp,
	})
}
