package store

import (
	"context"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/server/app/register"

	"gorm.io/gorm"
)

// registerLock is the number of the advisory lock that an import holds.
const registerLock = 20260101

// LockRegister makes other imports wait until ctx's transaction ends. On
// SQLite the transaction itself does: it holds the one write lock.
func (s *Store) LockRegister(ctx context.Context) error {
	if s.tx(ctx) == nil {
		return &domain.Error{Kind: domain.KindInternal, Code: "no-transaction", Text: "The register is locked for a transaction, and none is open."}
	}
	if s.dialect == SQLite {
		return nil
	}
	return mapError(s.from(ctx).Exec("SELECT pg_advisory_xact_lock(?)", registerLock).Error, "register")
}

// RegisterSnapshot is the whole register as it stands at one moment.
// Milestones without a day are left out.
func (s *Store) RegisterSnapshot(ctx context.Context) (register.Snapshot, error) {
	var snap register.Snapshot
	err := s.snapshot(ctx, func(ctx context.Context) (err error) {
		if snap.Firm, err = s.Firm(ctx); err != nil {
			return err
		}
		if snap.Branches, err = s.Branches(ctx); err != nil {
			return err
		}
		if snap.People, err = s.people(ctx, s.reader(ctx).Order("folded, id")); err != nil {
			return err
		}
		if snap.Visits, err = s.lastVisits(ctx); err != nil {
			return err
		}
		return s.registerRows(ctx, &snap)
	})
	return snap, err
}

func (s *Store) registerRows(ctx context.Context, snap *register.Snapshot) (err error) {
	all := func(order string) *gorm.DB { return s.reader(ctx).Order(order) }
	if snap.Clients, err = many(all("folded, id"), "client", clientRow.client); err != nil {
		return err
	}
	if snap.Farms, err = many(all("client_id, folded, id"), "farm", farmRow.farm); err != nil {
		return err
	}
	if snap.Units, err = many(all("farm_id, folded, id"), "unit", unitRow.unit); err != nil {
		return err
	}
	if snap.Work, err = many(all("farm_id, person_id"), "work", workRow.work); err != nil {
		return err
	}
	if snap.Cycles, err = many(all("farm_id, started_on, id"), "cycle", cycleRow.cycle); err != nil {
		return err
	}
	if snap.Milestones, err = many(all("cycle_id, target, milestone").Where("done_on <> 0"), "milestone", milestoneRow.milestone); err != nil {
		return err
	}
	if snap.Batches, err = many(all("unit_id, stocked_on, id"), "batch", batchRow.batch); err != nil {
		return err
	}
	snap.Passes, err = many(all("person_id, passed_on, enterprise, module"), "pass", passRow.pass)
	return err
}

// lastVisits is the day of the last visit done, by farm.
func (s *Store) lastVisits(ctx context.Context) (map[string]calendar.Date, error) {
	var rows []struct {
		FarmID string
		On     calendar.Date
	}
	err := s.reader(ctx).Table("visits").Select(`farm_id, MAX(done_on) AS "on"`).Where("state = 'done'").Group("farm_id").Scan(&rows).Error
	last := make(map[string]calendar.Date, len(rows))
	for _, r := range rows {
		last[r.FarmID] = r.On
	}
	return last, mapError(err, "visit")
}
