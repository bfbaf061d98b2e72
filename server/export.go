package server

import (
	"context"

	"tendfold/server/app/register"
	"tendfold/server/intake"
	"tendfold/server/store"
)

// Export writes everything that belongs to the firm into a folder, one CSV
// file a kind of thing; register.csv can be taken in again. told is called
// after each file and may be nil.
func (h *House) Export(ctx context.Context, dir string, told func(intake.File)) ([]intake.File, error) {
	return intake.Export(ctx, dir, exported{h.Store}, h.Packs, told)
}

// exported is the store as an export reads it.
type exported struct{ *store.Store }

// RegisterSnapshot is the register.
func (e exported) RegisterSnapshot(ctx context.Context) (register.Snapshot, error) {
	return e.Store.RegisterSnapshot(ctx)
}

// Dumps is everything else.
func (e exported) Dumps() []intake.Dump {
	var out []intake.Dump
	for _, d := range e.Store.Dumps() {
		out = append(out, intake.Dump{Name: d.Name, Columns: d.Columns, Rows: d.Rows})
	}
	return out
}
