package store

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/media"
)

type mediaRow struct {
	ID            string
	FarmID        string
	EntryID       string
	Kind          string
	PersonID      string
	Size          int64
	SHA256        string `gorm:"column:sha256"`
	Lat           float64
	Lng           float64
	PositionKnown bool
	AnnouncedAt   micros
	State         string
	Why           string
	KeptAt        micros
	Blob          string
	Thumb         string
	Type          string
	Bytes         int64
	Width         int
	Height        int
}

func (mediaRow) TableName() string { return "media" }

func mediaToRow(m app.Medium) mediaRow {
	return mediaRow{
		ID: m.ID, FarmID: m.FarmID, EntryID: m.EntryID, Kind: string(m.Kind), PersonID: m.PersonID, Size: m.Size, SHA256: m.SHA256,
		Lat: m.Taken.Lat, Lng: m.Taken.Lng, PositionKnown: m.Taken.Known, AnnouncedAt: toMicros(m.AnnouncedAt),
		State: string(m.State), Why: m.Why, KeptAt: toMicros(m.KeptAt),
		Blob: m.Blob, Thumb: m.Thumb, Type: m.Type, Bytes: m.Bytes, Width: m.Width, Height: m.Height,
	}
}

func (r mediaRow) media() app.Medium {
	return app.Medium{
		ID: r.ID, FarmID: r.FarmID, EntryID: r.EntryID, Kind: media.Kind(r.Kind), PersonID: r.PersonID, Size: r.Size, SHA256: r.SHA256,
		Taken: farm.Position{Lat: r.Lat, Lng: r.Lng, Known: r.PositionKnown}, AnnouncedAt: r.AnnouncedAt.time(),
		State: app.MediaState(r.State), Why: r.Why, KeptAt: r.KeptAt.time(),
		Blob: r.Blob, Thumb: r.Thumb, Type: r.Type, Bytes: r.Bytes, Width: r.Width, Height: r.Height,
	}
}

// AddMedia notes a photo or a voice note as announced. The same id announced
// twice at once is a conflict for the second.
func (s *Store) AddMedia(ctx context.Context, m app.Medium) error {
	return s.insert(ctx, "media", []mediaRow{mediaToRow(m)})
}

// Media is one photo or voice note, when the scope sees its farm.
func (s *Store) Media(ctx context.Context, sc app.Scope, id string) (app.Medium, error) {
	r, err := one[mediaRow](s.within(s.reader(ctx), sc, "media.farm_id").Where("id = ?", id), "media")
	return r.media(), err
}

// MediaOf are the photos and voice notes of the entries, by entry and id.
func (s *Store) MediaOf(ctx context.Context, entryIDs []string) ([]app.Medium, error) {
	if len(entryIDs) == 0 {
		return nil, nil
	}
	cond, list := s.in("entry_id", entryIDs)
	return many(s.reader(ctx).Where(cond, list).Order("entry_id, id"), "media", mediaRow.media)
}

// KeptMedia calls one with the id, the file's name and the media type of each
// photo and voice note that is kept, by id, until one fails.
func (s *Store) KeptMedia(ctx context.Context, one func(id, blob, typ string) error) error {
	kept, err := many(s.reader(ctx).Select("id", "blob", "type").Where("state = ?", string(app.MediaKept)).Order("id"), "media", mediaRow.media)
	for i := 0; i < len(kept) && err == nil; i++ {
		err = one(kept[i].ID, kept[i].Blob, kept[i].Type)
	}
	return err
}

// MediaSince is how many photos and voice notes a person has announced since
// an instant, and their bytes.
func (s *Store) MediaSince(ctx context.Context, personID string, since time.Time) (n int, bytes int64, err error) {
	var sum struct{ N, Bytes int64 }
	err = s.from(ctx).Model(&mediaRow{}).Select("COUNT(*) AS n, COALESCE(SUM(size), 0) AS bytes").
		Where("person_id = ? AND announced_at >= ?", personID, toMicros(since)).Take(&sum).Error
	return int(sum.N), sum.Bytes, mapError(err, "media")
}

// EndMedia writes what became of one that was coming; one that has become
// something already is a conflict.
func (s *Store) EndMedia(ctx context.Context, m app.Medium) error {
	r := mediaToRow(m)
	res := s.from(ctx).Model(&mediaRow{}).Where("id = ? AND state = ?", r.ID, string(app.MediaComing)).Updates(map[string]any{
		"state": r.State, "why": r.Why, "kept_at": r.KeptAt, "blob": r.Blob, "thumb": r.Thumb, "type": r.Type,
		"bytes": r.Bytes, "width": r.Width, "height": r.Height,
	})
	if res.Error == nil && res.RowsAffected == 0 {
		return domain.Conflict("media-ended", "This photo or voice note was taken or refused before. Ask what became of it.")
	}
	return mapError(res.Error, "media")
}

// RaiseMark lifts the mark that an entry made from a word to a photo. A mark
// that another entry has replaced stays as it is.
func (s *Store) RaiseMark(ctx context.Context, eventID string) error {
	return mapError(s.from(ctx).Model(&markRow{}).Where("event_id = ? AND grade = ?", eventID, string(farm.WordGiven)).
		Update("grade", string(farm.Photo)).Error, "mark")
}
