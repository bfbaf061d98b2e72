package api

import (
	"context"
	"net/http"

	"tendfold/domain/calendar"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	absenceList struct {
		Body struct {
			Items []app.Absence `json:"items"`
		}
	}
	newAbsence struct {
		Once
		Body struct {
			PersonID string        `json:"person_id" maxLength:"64"`
			CoverID  string        `json:"cover_id" maxLength:"64" doc:"The colleague who does their work meanwhile."`
			From     calendar.Date `json:"from" format:"date"`
			Until    calendar.Date `json:"until" format:"date" doc:"The last day away."`
		}
	}
	// AbsencePath names an absence in an address.
	AbsencePath struct {
		ID string `path:"id" maxLength:"64"`
	}
	absenceAnswer struct {
		Body app.Absence
	}
)

func (f Face) absences(api huma.API) {
	const tag = "desk"
	register(api, op("list-absences", http.MethodGet, "/api/absences", tag, "Who is away now or will be, and who covers"), f.listAbsences)
	register(api, op("add-absence", http.MethodPost, "/api/absences", tag, "Say who is away and who covers"), f.addAbsence)
	register(api, op("remove-absence", http.MethodDelete, "/api/absences/{id}", tag, "Take an absence back"), f.removeAbsence)
}

func (f Face) listAbsences(ctx context.Context, _ *struct{}) (*absenceList, error) {
	items, err := f.Absences.List(ctx, actor(ctx))
	out := &absenceList{}
	out.Body.Items = items
	return out, err
}

func (f Face) addAbsence(ctx context.Context, in *newAbsence) (*absenceAnswer, error) {
	return once(f, ctx, in.Key, "add-absence", in, func(ctx context.Context) (*absenceAnswer, error) {
		b := in.Body
		a, err := f.Absences.Add(ctx, actor(ctx), app.Absence{PersonID: b.PersonID, CoverID: b.CoverID, From: b.From, Until: b.Until})
		return &absenceAnswer{a}, err
	})
}

func (f Face) removeAbsence(ctx context.Context, in *AbsencePath) (*nothing, error) {
	return nil, f.Absences.Remove(ctx, actor(ctx), in.ID)
}
