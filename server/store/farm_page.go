package store

import (
	"context"

	"tendfold/domain/farm"
	"tendfold/server/app"
)

// pageLine is a farm with its client and its branch.
type pageLine struct {
	Farm   farmRow   `gorm:"embedded"`
	Client clientRow `gorm:"embedded"`
	Branch branchRow `gorm:"embedded"`
}

// workerRow is a person who works on a farm.
type workerRow struct {
	Work     workRow `gorm:"embedded"`
	Name     string
	Phone    string
	Language string
}

func (r workerRow) worker() app.Worker {
	return app.Worker{Work: r.Work.work(), Name: r.Name, Phone: r.Phone, Language: r.Language}
}

// FarmRows reads what the page of one farm is made of: eleven short queries
// by indexes, whatever the farm has. They need no transaction, which would
// cost as much as three of them: what carries a version is read before what
// hangs on it, so whoever changes something that moved on meanwhile is told
// that it is stale.
func (s *Store) FarmRows(ctx context.Context, sc app.Scope, id string) (app.FarmRows, error) {
	var out app.FarmRows
	line, err := s.pageLine(ctx, sc, id)
	if err != nil {
		return out, err
	}
	out.Farm = farmLine{line.Farm, line.Client.Name}.line()
	out.Owner = line.Client.client()
	if out.Branch, err = line.Branch.branch(); err != nil {
		return out, err
	}
	return out, s.addFarmRows(ctx, id, &out)
}

func (s *Store) pageLine(ctx context.Context, sc app.Scope, id string) (pageLine, error) {
	cond, args := s.farmsOf(sc)
	return readOne[pageLine](ctx, s, "farm", selectOf[farmRow]("f")+also[clientRow]("c")+also[branchRow]("b")+
		" FROM farms f JOIN clients c ON c.id = f.client_id JOIN branches b ON b.id = f.branch_id WHERE f.id = ? AND "+cond, append([]any{id}, args...)...)
}

func (s *Store) addFarmRows(ctx context.Context, id string, out *app.FarmRows) (err error) {
	these := []string{id}
	if out.Units, err = s.UnitsOf(ctx, these); err != nil {
		return err
	}
	if out.Cycles, err = s.CyclesOf(ctx, these); err != nil {
		return err
	}
	if out.Snags, err = s.SnagsOf(ctx, these); err != nil {
		return err
	}
	units := each(out.Units, func(u farm.Unit) string { return u.ID })
	if out.Batches, err = s.BatchesOf(ctx, units); err != nil {
		return err
	}
	var running []string
	for _, c := range out.Cycles {
		if c.EndedOn.IsZero() {
			running = append(running, c.ID)
		}
	}
	if err = s.addCycleRows(ctx, running, out); err != nil {
		return err
	}
	return s.addWorkerRows(ctx, id, out)
}

func (s *Store) addCycleRows(ctx context.Context, running []string, out *app.FarmRows) (err error) {
	if out.Milestones, err = s.MilestonesOf(ctx, running); err != nil {
		return err
	}
	if out.Marks, err = s.MarksOf(ctx, running); err != nil {
		return err
	}
	if out.Readings, err = s.ReadingsOf(ctx, running); err != nil {
		return err
	}
	out.Pauses, err = s.PausesOf(ctx, running)
	return err
}

func (s *Store) addWorkerRows(ctx context.Context, id string, out *app.FarmRows) error {
	rows, err := read[workerRow](ctx, s, "work", selectOf[workRow]("w")+", p.name, p.phone, p.language"+
		" FROM farm_people w JOIN people p ON p.id = w.person_id WHERE w.farm_id = ? ORDER BY w.person_id", id)
	if err != nil {
		return err
	}
	out.Workers = each(rows, workerRow.worker)
	ids := each(rows, func(r workerRow) string { return r.Work.PersonID })
	out.Passes, err = s.PassesOf(ctx, ids)
	return err
}
