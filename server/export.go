package server

import (
	"context"
	"errors"
	"path/filepath"

	"tendfold/domain"
	"tendfold/server/app/register"
	"tendfold/server/intake"
	"tendfold/server/store"
)

// Export writes everything that belongs to the firm into a folder, one CSV
// file a kind of thing; register.csv can be taken in again. Photos and voice
// notes come as they are into the folder media in it, each under its id in
// media.csv. told is called after each file, once for the folder, and may be
// nil.
func (h *House) Export(ctx context.Context, dir string, told func(intake.File)) ([]intake.File, error) {
	files, err := intake.Export(ctx, dir, exported{h.Store}, h.Packs, told)
	if err != nil {
		return nil, err
	}
	all := intake.File{Name: "media"}
	if all.Rows, err = h.exportMedia(ctx, filepath.Join(dir, all.Name)); err != nil {
		return nil, err
	}
	if told != nil {
		told(all)
	}
	return append(files, all), nil
}

// One that the folder of the house has lost is left out: the rest must come.
func (h *House) exportMedia(ctx context.Context, dir string) (n int, err error) {
	err = h.Store.KeptMedia(ctx, func(id, blob, typ string) error {
		err := h.Files.Export(blob, typ, dir, id)
		var lost *domain.Error
		if errors.As(err, &lost) && lost.Kind == domain.KindNotFound {
			return nil
		}
		n++
		return err
	})
	return n, err
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
