package register

import (
	"context"
	"slices"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
)

// piece is how many things are written at once, and how often progress is
// told.
const piece = 500

// writer carries writes out, in an order in which everything that something
// refers to is there already.
type writer struct {
	store    Store
	at       time.Time
	progress func(done, total int)
	done     int
	total    int
}

func (w *writer) write(ctx context.Context, x Writes, rows []app.Milestone) error {
	w.total = x.size() + len(rows)
	steps := []func(context.Context) error{
		add(w, x.Branches.New, w.store.AddBranches),
		change(w, x.Clients.Changed, w.store.ChangeClient),
		add(w, x.Clients.New, w.store.AddClients),
		change(w, x.People.Changed, w.store.ChangePerson),
		add(w, x.People.New, w.people),
		change(w, x.Farms.Changed, w.store.ChangeFarm),
		add(w, x.Farms.New, w.farms),
		add(w, x.Work, w.store.SetWork),
		change(w, x.Units.Changed, w.store.ChangeUnit),
		add(w, x.Units.New, w.store.AddUnits),
		change(w, x.Cycles.Changed, w.store.ChangeCycle), // one that ends makes room for the next
		add(w, x.Cycles.New, w.store.AddCycles),
		add(w, again(x.Starts), w.store.RemoveMilestones),
		add(w, rows, w.store.AddMilestones),
		change(w, x.Marked, w.mark),
		change(w, x.Batches.Changed, w.store.ChangeBatch),
		add(w, x.Batches.New, w.store.AddBatches),
		add(w, x.Visits, w.store.AddVisits),
		add(w, x.Passes, w.store.AddPasses),
		add(w, x.Events, w.events),
	}
	for _, step := range steps {
		if err := step(ctx); err != nil {
			return err
		}
	}
	return nil
}

// add writes things in pieces.
func add[T any](w *writer, list []T, write func(context.Context, ...T) error) func(context.Context) error {
	return func(ctx context.Context) error {
		for part := range slices.Chunk(list, piece) {
			if err := write(ctx, part...); err != nil {
				return err
			}
			w.tell(len(part))
		}
		return nil
	}
}

// change writes things one by one, as each has its own version.
func change[T any](w *writer, list []T, write func(context.Context, T) error) func(context.Context) error {
	return func(ctx context.Context) error {
		for _, x := range list {
			if err := write(ctx, x); err != nil {
				return err
			}
			w.tell(1)
		}
		return nil
	}
}

func (w *writer) tell(n int) {
	before := w.done / piece
	if w.done += n; w.progress != nil && (w.done/piece > before || w.done == w.total) {
		w.progress(w.done, w.total)
	}
}

func (w *writer) people(ctx context.Context, list ...farm.Person) error {
	return w.store.AddPeople(ctx, w.at, list...)
}

func (w *writer) farms(ctx context.Context, list ...farm.Farm) error {
	return w.store.AddFarms(ctx, w.at, list...)
}

func (w *writer) events(ctx context.Context, list ...app.Event) error {
	_, err := w.store.AppendEvents(ctx, list...)
	return err
}

func (w *writer) mark(ctx context.Context, m app.Milestone) error {
	return w.store.MarkMilestone(ctx, m.CycleID, m.Key, m.DoneOn, m.Grade, m.DoneBy)
}

// again are the cycles whose baseline is replaced.
func again(starts []Start) []string {
	var ids []string
	for _, s := range starts {
		if s.Again {
			ids = append(ids, s.Cycle.ID)
		}
	}
	return ids
}

// size is how many things there are to write.
func (x Writes) size() int {
	return len(x.Branches.New) + x.Clients.size() + x.Farms.size() + x.Units.size() + x.People.size() + x.Cycles.size() + x.Batches.size() +
		len(x.Work) + len(again(x.Starts)) + len(x.Marked) + len(x.Visits) + len(x.Passes) + len(x.Events)
}

func (s Saved[T]) size() int { return len(s.New) + len(s.Changed) }
