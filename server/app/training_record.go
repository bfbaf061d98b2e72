package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"tendfold/checklists"
)

// recorder gathers the lines of a training record.
type recorder struct {
	packs    *checklists.Set
	language string
	rows     []RecordRow
}

func (r *recorder) read(ctx context.Context, store trainingStore, ids []string) error {
	passes, err := store.PassesOf(ctx, ids)
	if err != nil {
		return err
	}
	parts, err := loadLearned(ctx, store, ids...)
	if err != nil {
		return err
	}
	for _, p := range passes {
		r.add(RecordRow{PersonID: p.PersonID, ModuleKey: ModuleKey{p.Enterprise, p.Module}, What: "pass", On: p.On, Until: p.Until, How: p.How, Result: "passed", By: p.ByID})
	}
	for _, a := range parts.attempts {
		r.add(RecordRow{
			PersonID: a.PersonID, ModuleKey: a.ModuleKey, What: "questions", On: a.On, How: a.How,
			Result: result(a.Passed), Score: fmt.Sprintf("%d/%d", a.Correct, a.Asked), By: a.ByID,
		})
	}
	for _, c := range parts.checks {
		r.add(RecordRow{PersonID: c.PersonID, ModuleKey: c.ModuleKey, What: "practical-check", On: c.On, How: c.How, Result: result(c.Passed), By: c.ByID})
	}
	return nil
}

func result(passed bool) string {
	if passed {
		return "passed"
	}
	return "failed"
}

func (r *recorder) add(row RecordRow) {
	row.Name = row.Module
	if p, ok := r.packs.Pack(row.Enterprise); ok {
		if m, ok := p.Module(row.Module); ok {
			row.Name = m.Name.In(r.language)
		}
	}
	r.rows = append(r.rows, row)
}

// named puts names in place of the ids of people and sorts.
func (r *recorder) named(ctx context.Context, store trainingStore) ([]RecordRow, error) {
	ids := map[string]bool{}
	for _, row := range r.rows {
		ids[row.PersonID], ids[row.By] = true, true
	}
	list := make([]string, 0, len(ids))
	for id := range ids {
		list = append(list, id)
	}
	people, err := store.PeopleByIDs(ctx, list)
	if err != nil {
		return nil, err
	}
	names := map[string]string{}
	for _, p := range people {
		names[p.ID] = p.Name
	}
	for i := range r.rows {
		r.rows[i].Person, r.rows[i].By = names[r.rows[i].PersonID], names[r.rows[i].By]
	}
	slices.SortStableFunc(r.rows, func(a, b RecordRow) int {
		return cmp.Or(cmp.Compare(a.Person, b.Person), cmp.Compare(a.PersonID, b.PersonID), cmp.Compare(a.On, b.On), cmp.Compare(a.Module, b.Module), cmp.Compare(a.What, b.What))
	})
	return r.rows, nil
}
