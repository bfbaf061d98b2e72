package api

import (
	"context"
	"encoding/json"
	"net/http"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	entryBody struct {
		ID        string          `json:"id" minLength:"1" maxLength:"64" doc:"Made by whoever writes the entry (UUIDv7); the same id again is the same entry."`
		UnitID    string          `json:"unit_id,omitempty" maxLength:"64"`
		CycleID   string          `json:"cycle_id,omitempty" maxLength:"64"`
		Kind      string          `json:"kind" enum:"milestone,not-done,item,cover,weights,day,could-not,work,request,trouble,module,answers,module-read,call-me,stocking,note,snag,snag-mended,pause,pause-agreed,pause-ended"`
		On        calendar.Date   `json:"on" format:"date" doc:"The day that the entry states."`
		DeviceAt  time.Time       `json:"device_at,omitzero" doc:"The phone's own time."`
		DeviceSeq int64           `json:"device_seq,omitempty" minimum:"0" doc:"Counts up on the device; numbers may be left out."`
		HLC       string          `json:"hlc,omitempty" maxLength:"26" doc:"The device's hybrid logical clock: 12 hexadecimal digits of milliseconds since 1970, 4 of a count, 8 that name the device, joined by hyphens. It decides which of two entries was made last."`
		Schema    int             `json:"schema,omitempty" minimum:"0" maximum:"2" doc:"How the entry is written: 2, or 1 when left out (then without hlc)."`
		Replaces  string          `json:"replaces,omitempty" maxLength:"64" doc:"The entry that this one corrects; the old one stays on record."`
		Data      json.RawMessage `json:"data,omitempty" doc:"By kind; see docs/api.md."`
	}
	newEntry struct {
		FarmPath
		Body entryBody
	}
	entryAnswer struct {
		Body app.Event
	}
)

func (f Face) entries(api huma.API) {
	const tag = "entries"
	register(api, op("add-entry", http.MethodPost, "/api/farms/{id}/entries", tag, "Say what was done or seen on a farm"), f.addEntry)
}

func (b entryBody) event(farmID string) app.Event {
	return app.Event{
		ID: b.ID, FarmID: farmID, UnitID: b.UnitID, CycleID: b.CycleID, Kind: b.Kind, On: b.On,
		DeviceAt: b.DeviceAt, DeviceSeq: b.DeviceSeq, HLC: b.HLC, Replaces: b.Replaces, Data: b.Data,
	}
}

func (f Face) addEntry(ctx context.Context, in *newEntry) (*entryAnswer, error) {
	ev, err := f.Entries.AddNow(ctx, actor(ctx), in.Body.event(in.ID))
	return &entryAnswer{ev}, err
}
