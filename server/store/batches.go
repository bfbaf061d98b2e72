package store

import (
	"cmp"
	"context"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

type batchRow struct {
	ID          string
	UnitID      string
	CycleID     string
	Species     string
	Head        int
	MeanWeightG float64
	Source      string
	StockedOn   calendar.Date
}

func (batchRow) TableName() string { return "batches" }

func (r batchRow) batch() farm.Batch {
	return farm.Batch{
		ID: r.ID, UnitID: r.UnitID, CycleID: r.CycleID, Species: r.Species, Count: r.Head,
		MeanWeightG: r.MeanWeightG, Source: r.Source, StockedOn: r.StockedOn,
	}
}

// AddBatches makes batches.
func (s *Store) AddBatches(ctx context.Context, bs ...farm.Batch) error {
	return s.insert(ctx, "batch", each(bs, func(b farm.Batch) batchRow {
		return batchRow{b.ID, b.UnitID, b.CycleID, b.Species, b.Count, b.MeanWeightG, b.Source, b.StockedOn}
	}))
}

// ChangeBatch corrects a batch; a batch has no version, as it is a record of
// what was put in.
func (s *Store) ChangeBatch(ctx context.Context, b farm.Batch) error {
	return found(s.from(ctx).Model(&batchRow{}).Where("id = ?", b.ID).Updates(map[string]any{
		"cycle_id": b.CycleID, "species": b.Species, "head": b.Count, "mean_weight_g": b.MeanWeightG,
		"source": b.Source, "stocked_on": b.StockedOn,
	}), "batch")
}

// BatchesOf are the batches of the units, by unit and day.
func (s *Store) BatchesOf(ctx context.Context, unitIDs []string) ([]farm.Batch, error) {
	return readOf(ctx, s, "batch", "batches", "unit_id", unitIDs, func(a, b batchRow) int {
		return cmp.Or(cmp.Compare(a.UnitID, b.UnitID), cmp.Compare(a.StockedOn, b.StockedOn), cmp.Compare(a.ID, b.ID))
	}, batchRow.batch)
}
