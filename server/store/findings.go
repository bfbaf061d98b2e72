package store

import (
	"context"
	"errors"
	"slices"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"

	"gorm.io/gorm"
)

type findingRow struct {
	FarmID     string `gorm:"primaryKey"`
	UnitID     string `gorm:"primaryKey"`
	CycleID    string `gorm:"primaryKey"`
	Rule       string `gorm:"primaryKey"`
	Subject    string `gorm:"primaryKey"`
	TrueSince  calendar.Date
	FalseSince calendar.Date
	MutedBy    string
	Still      int
	LastOn     calendar.Date
	Reasons    string
}

func (findingRow) TableName() string { return "findings" }

func clockToRow(c sweep.Clock) findingRow {
	r := findingRow{
		FarmID: c.FarmID, UnitID: c.UnitID, CycleID: c.CycleID, Rule: c.Rule, Subject: c.Subject, TrueSince: c.TrueSince,
		FalseSince: c.FalseSince, Still: c.Still, LastOn: c.LastOn, Reasons: toJSON(c.Reasons),
	}
	if c.Muted() {
		r.MutedBy = toJSON(c.MutedBy)
	}
	return r
}

func (r findingRow) clock() (sweep.Clock, error) {
	mutedBy, err1 := fromJSON[ticket.Key](r.MutedBy)
	reasons, err2 := fromJSON[[]domain.Reason](r.Reasons)
	return sweep.Clock{
		Key:       ticket.Key{FarmID: r.FarmID, UnitID: r.UnitID, CycleID: r.CycleID, Rule: r.Rule, Subject: r.Subject},
		TrueSince: r.TrueSince, FalseSince: r.FalseSince, Still: r.Still, LastOn: r.LastOn, MutedBy: mutedBy, Reasons: reasons,
	}, errors.Join(err1, err2)
}

// FindingsOf are the remembered findings of the farms, by farm and rule.
func (s *Store) FindingsOf(ctx context.Context, farmIDs []string) ([]sweep.Clock, error) {
	cond, list := s.in("farm_id", farmIDs)
	return manyOr(s.reader(ctx).Where(cond, list).Order("farm_id, rule, unit_id, cycle_id, subject"), "finding", findingRow.clock)
}

// SetFindings makes these the remembered findings of a farm, in place of all
// it had; what has not changed is not written.
func (s *Store) SetFindings(ctx context.Context, farmID string, clocks []sweep.Clock) error {
	return s.InTx(ctx, func(ctx context.Context) error {
		var old []findingRow
		if err := s.from(ctx).Where("farm_id = ?", farmID).Find(&old).Error; err != nil {
			return mapError(err, "finding")
		}
		rows := each(clocks, clockToRow)
		for _, r := range old {
			if slices.Contains(rows, r) {
				continue
			}
			if err := s.removeFinding(ctx, r); err != nil {
				return err
			}
		}
		return s.insert(ctx, "finding", slices.DeleteFunc(rows, func(r findingRow) bool { return slices.Contains(old, r) }))
	})
}

func (s *Store) removeFinding(ctx context.Context, r findingRow) error {
	return mapError(byKey(s.from(ctx), r).Delete(&findingRow{}).Error, "finding")
}

func byKey(q *gorm.DB, r findingRow) *gorm.DB {
	return q.Where("farm_id = ? AND unit_id = ? AND cycle_id = ? AND rule = ? AND subject = ?", r.FarmID, r.UnitID, r.CycleID, r.Rule, r.Subject)
}
