package app

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"

	"tendfold/domain/farm"
)

// Attached are the photos and voice notes that an entry of any kind may speak
// of, by id. They come after it, or before: until then the entry stands
// without them.
type Attached struct {
	Media []string `json:"media,omitempty"`
}

// attachedOf are the ids that an entry's data name.
func attachedOf(data json.RawMessage) []string {
	var a Attached
	if json.Unmarshal(data, &a) != nil {
		return nil
	}
	return a.Media
}

// attachedGood says whether what an entry names can be: few, and each a UUID.
func attachedGood(data json.RawMessage) bool {
	var a Attached
	if bytes.Contains(data, []byte(`"media"`)) && json.Unmarshal(data, &a) != nil {
		return false
	}
	return len(a.Media) <= mostMediaPerEntry && !slices.ContainsFunc(a.Media, func(id string) bool { return !mediaID.MatchString(id) })
}

// withoutMedia is the data as its kind reads it.
func withoutMedia(data json.RawMessage) json.RawMessage {
	if len(data) == 0 {
		return json.RawMessage("{}")
	}
	var fields map[string]json.RawMessage
	if !bytes.Contains(data, []byte(`"media"`)) || json.Unmarshal(data, &fields) != nil {
		return data
	}
	delete(fields, "media")
	out, err := json.Marshal(fields)
	if err != nil {
		return data
	}
	return out
}

// itemGrade is the grade of an item: that of a photo where it names one that
// has come and nobody of the firm saw it. A photo still to come is a word for
// now; Media.raise lifts it.
func (s *Entries) itemGrade(ctx context.Context, e *entry, asked farm.Grade) (farm.Grade, error) {
	if asked == farm.Photo {
		if len(attachedOf(e.Data)) == 0 {
			return "", refuse("grade", "no-photo", "A photo is evidence only where the entry names one. Send its id along.")
		}
		asked = farm.WordGiven
	}
	grade, err := e.grade(asked)
	if err != nil || grade != farm.WordGiven {
		return grade, err
	}
	if has, err := s.hasPhoto(ctx, e); err != nil || !has {
		return grade, err
	}
	return farm.Photo, nil
}

// hasPhoto says whether a photo that the entry names has come.
func (s *Entries) hasPhoto(ctx context.Context, e *entry) (bool, error) {
	if len(attachedOf(e.Data)) == 0 {
		return false, nil
	}
	all, err := s.store.MediaOf(ctx, []string{e.ID})
	return slices.ContainsFunc(all, func(m Medium) bool { return m.provesFor(e.Event) }), err
}

// withMedia puts to each entry the photos and voice notes that are known.
func withMedia(events []Event, all []Medium) {
	for i := range events {
		for _, m := range all {
			if m.EntryID == events[i].ID && m.FarmID == events[i].FarmID {
				events[i].Media = append(events[i].Media, m)
			}
		}
	}
}
