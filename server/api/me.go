package api

import (
	"context"
	"net/http"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app/signin"

	"github.com/danielgtaylor/huma/v2"
)

type (
	meAnswer struct {
		Body struct {
			ID        string       `json:"id"`
			Name      string       `json:"name"`
			Language  string       `json:"language"`
			Grants    []farm.Grant `json:"grants"`
			SessionID string       `json:"session_id"`
			DeviceID  string       `json:"device_id,omitempty"`
			WaysIn    signin.Own   `json:"ways_in"`
		}
	}
	changePassword struct {
		Body struct {
			Old string `json:"old" maxLength:"1000"`
			New string `json:"password" maxLength:"1000"`
		}
	}
	marked struct {
		SetCookie []http.Cookie `header:"Set-Cookie"`
	}
	confirmBody struct {
		Body struct {
			Password string `json:"password" maxLength:"1000" doc:"Asked again, so that a borrowed session cannot do this."`
		}
	}
	codeBody struct {
		Body struct {
			Code string `json:"code" maxLength:"20"`
		}
	}
	codeAppAnswer struct {
		Body struct {
			Secret string `json:"secret" doc:"For apps that cannot read the QR code."`
			URI    string `json:"uri" doc:"What the QR code shows."`
		}
	}
	phoneList struct {
		Body struct {
			Items []signin.Device `json:"items"`
		}
	}
	sessionList struct {
		Body struct {
			Items []signin.SessionLine `json:"items"`
		}
	}
	// ThingPath names one of one's own phones or sessions in an address. It is
	// exported because huma reads embedded structs only then.
	ThingPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	wayInAnswer struct {
		Body struct {
			ID        string    `json:"id"`
			Secret    string    `json:"secret,omitempty" doc:"For the fragment of /enrol#SECRET. Nobody sees it again."`
			Code      string    `json:"code,omitempty" doc:"To be read out. Nobody sees it again."`
			ExpiresAt time.Time `json:"expires_at"`
		}
	}
)

func (f Face) me(api huma.API) {
	const me = "me"
	register(api, op("get-me", http.MethodGet, "/api/me", me, "Who is signed in, and how"), f.getMe)
	register(api, op("change-password", http.MethodPut, "/api/me/password", me, "Change one's password; other sessions end"), f.changePassword)
	register(api, op("start-code-app", http.MethodPost, "/api/me/code-app", me, "Set a code app up; it counts once it is confirmed"), f.startCodeApp)
	register(api, op("confirm-code-app", http.MethodPut, "/api/me/code-app", me, "Prove the code app; other sessions end"), f.confirmCodeApp)
	register(api, op("remove-code-app", http.MethodPost, "/api/me/code-app/remove", me, "Go without the code app; other sessions end"), f.removeCodeApp)
	register(api, op("list-own-phones", http.MethodGet, "/api/me/phones", me, "One's enrolled phones"), f.ownPhones)
	register(api, op("add-own-phone", http.MethodPost, "/api/me/phones", me, "A link for another phone of one's own"), f.addOwnPhone)
	register(api, op("revoke-own-phone", http.MethodDelete, "/api/me/phones/{id}", me, "Revoke one of one's phones, at once"), f.revokeOwnPhone)
	register(api, op("list-own-sessions", http.MethodGet, "/api/me/sessions", me, "One's sessions"), f.ownSessions)
	register(api, op("end-own-session", http.MethodDelete, "/api/me/sessions/{id}", me, "End one of one's sessions, at once"), f.endOwnSession)
	register(api, op("end-other-sessions", http.MethodDelete, "/api/me/sessions", me, "End all of one's sessions but this one"), f.endOthers)
}

func (f Face) getMe(ctx context.Context, _ *struct{}) (*meAnswer, error) {
	who := actor(ctx)
	own, err := f.SignIn.Own(ctx, who)
	out := &meAnswer{}
	out.Body.ID, out.Body.Name, out.Body.Language, out.Body.Grants = who.PersonID, who.Name, who.Language, who.Grants
	out.Body.SessionID, out.Body.DeviceID, out.Body.WaysIn = who.SessionID, who.DeviceID, own
	return out, err
}

func (f Face) changePassword(ctx context.Context, in *changePassword) (*marked, error) {
	mark, err := f.SignIn.ChangePassword(ctx, actor(ctx), in.Body.Old, in.Body.New)
	if err != nil {
		return nil, err
	}
	return &marked{[]http.Cookie{doorOf(ctx).cookie(browserCookie, mark, browserLife)}}, nil
}

func (f Face) startCodeApp(ctx context.Context, in *confirmBody) (*codeAppAnswer, error) {
	secret, uri, err := f.SignIn.StartCodeApp(ctx, actor(ctx), in.Body.Password)
	out := &codeAppAnswer{}
	out.Body.Secret, out.Body.URI = secret, uri
	return out, err
}

func (f Face) confirmCodeApp(ctx context.Context, in *codeBody) (*nothing, error) {
	return nil, f.SignIn.ConfirmCodeApp(ctx, actor(ctx), in.Body.Code)
}

func (f Face) removeCodeApp(ctx context.Context, in *confirmBody) (*nothing, error) {
	return nil, f.SignIn.RemoveCodeApp(ctx, actor(ctx), in.Body.Password)
}

func (f Face) ownPhones(ctx context.Context, _ *struct{}) (*phoneList, error) {
	return f.phonesOf(ctx, actor(ctx).PersonID)
}

func (f Face) phonesOf(ctx context.Context, personID string) (*phoneList, error) {
	items, err := f.SignIn.Phones(ctx, actor(ctx), personID)
	out := &phoneList{}
	out.Body.Items = items
	return out, err
}

func (f Face) addOwnPhone(ctx context.Context, in *confirmBody) (*wayInAnswer, error) {
	return wayIn(f.SignIn.MakeOwnEnrolment(ctx, actor(ctx), in.Body.Password))
}

func wayIn(made signin.Made, err error) (*wayInAnswer, error) {
	out := &wayInAnswer{}
	out.Body.ID, out.Body.Secret, out.Body.Code, out.Body.ExpiresAt = made.ID, made.Secret, made.Code, made.Expires
	return out, err
}

func (f Face) revokeOwnPhone(ctx context.Context, in *ThingPath) (*nothing, error) {
	return nil, f.SignIn.RevokePhone(ctx, actor(ctx), actor(ctx).PersonID, in.ID)
}

func (f Face) ownSessions(ctx context.Context, _ *struct{}) (*sessionList, error) {
	return f.sessionsOf(ctx, actor(ctx).PersonID)
}

func (f Face) sessionsOf(ctx context.Context, personID string) (*sessionList, error) {
	items, err := f.SignIn.Sessions(ctx, actor(ctx), personID)
	out := &sessionList{}
	out.Body.Items = items
	return out, err
}

func (f Face) endOwnSession(ctx context.Context, in *ThingPath) (*nothing, error) {
	return nil, f.SignIn.EndSession(ctx, actor(ctx), actor(ctx).PersonID, in.ID)
}

func (f Face) endOthers(ctx context.Context, _ *struct{}) (*nothing, error) {
	return nil, f.SignIn.EndOtherSessions(ctx, actor(ctx))
}
