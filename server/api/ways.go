package api

import (
	"context"
	"net/http"

	"tendfold/server/app/signin"

	"github.com/danielgtaylor/huma/v2"
)

type (
	makeWayIn struct {
		PersonPath
		Body struct {
			Purpose signin.Purpose `json:"purpose" enum:"phone,password,reset" doc:"Enrol a phone; choose a password and keep the code app; or forget that too."`
			Kind    signin.Kind    `json:"kind" enum:"link,code" doc:"A link or QR code of 48 hours, or a code of ten minutes to be read out, for phones only."`
		}
	}
	// PersonThingPath names a phone or session of a person in an address. It is
	// exported because huma reads embedded structs only then.
	PersonThingPath struct {
		PersonPath
		Thing string `path:"thing" maxLength:"64"`
	}
)

// ways are what staff do about the ways in of others. Making one takes no
// Idempotency-Key: its answer is a secret that nobody may keep, and a second
// one voids the first.
func (f Face) ways(api huma.API) {
	const people = "people"
	register(api, op("make-way-in", http.MethodPost, "/api/people/{id}/ways-in", people, "Make a link or code by which a person gets in"), f.makeWayIn)
	register(api, op("list-phones", http.MethodGet, "/api/people/{id}/phones", people, "A person's enrolled phones"), f.phones)
	register(api, op("revoke-phone", http.MethodDelete, "/api/people/{id}/phones/{thing}", people, "Revoke a person's phone, at once"), f.revokePhone)
	register(api, op("revoke-phones", http.MethodDelete, "/api/people/{id}/phones", people, "Revoke all of a person's phones, at once"), f.revokePhones)
	register(api, op("list-sessions", http.MethodGet, "/api/people/{id}/sessions", people, "A person's sessions"), f.sessions)
	register(api, op("end-session", http.MethodDelete, "/api/people/{id}/sessions/{thing}", people, "End a person's session, at once"), f.endSession)
	register(api, op("end-sessions", http.MethodDelete, "/api/people/{id}/sessions", people, "End all of a person's sessions, at once"), f.endSessions)
}

func (f Face) makeWayIn(ctx context.Context, in *makeWayIn) (*wayInAnswer, error) {
	return wayIn(f.SignIn.MakeEnrolment(ctx, actor(ctx), signin.MakeEnrolment{PersonID: in.ID, Purpose: in.Body.Purpose, Kind: in.Body.Kind}))
}

func (f Face) phones(ctx context.Context, in *PersonPath) (*phoneList, error) {
	return f.phonesOf(ctx, in.ID)
}

func (f Face) revokePhone(ctx context.Context, in *PersonThingPath) (*nothing, error) {
	return nil, f.SignIn.RevokePhone(ctx, actor(ctx), in.ID, in.Thing)
}

func (f Face) revokePhones(ctx context.Context, in *PersonPath) (*nothing, error) {
	return nil, f.SignIn.RevokePhones(ctx, actor(ctx), in.ID)
}

func (f Face) sessions(ctx context.Context, in *PersonPath) (*sessionList, error) {
	return f.sessionsOf(ctx, in.ID)
}

func (f Face) endSession(ctx context.Context, in *PersonThingPath) (*nothing, error) {
	return nil, f.SignIn.EndSession(ctx, actor(ctx), in.ID, in.Thing)
}

func (f Face) endSessions(ctx context.Context, in *PersonPath) (*nothing, error) {
	return nil, f.SignIn.EndAllSessions(ctx, actor(ctx), in.ID)
}
