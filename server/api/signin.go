package api

import (
	"context"
	"net/http"
	"time"

	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/signin"
	"tendfold/server/app/signin/keys"

	"github.com/danielgtaylor/huma/v2"
)

type (
	proofBody struct {
		Nonce     string `json:"nonce" maxLength:"256"`
		Signature string `json:"signature" maxLength:"128" doc:"ECDSA P-256 with SHA-256 over the three lines 'tendfold VERB', the nonce, and what it is about (enrol: RFC 7638 thumbprint of the key; sign-in: device id; refresh: session id), as r and s in base64url."`
	}
	grantBody struct {
		AccessToken string      `json:"access_token"`
		ExpiresIn   int         `json:"expires_in" example:"600" doc:"Seconds."`
		SessionID   string      `json:"session_id"`
		DeviceID    string      `json:"device_id,omitempty"`
		Person      farm.Person `json:"person"`
	}
	grantAnswer struct {
		SetCookie []http.Cookie `header:"Set-Cookie"`
		Body      grantBody
	}
	leftAnswer struct {
		SetCookie []http.Cookie `header:"Set-Cookie"`
	}
	signInBody struct {
		Body struct {
			Login    string `json:"login" maxLength:"200" example:"ana@palmwalk.example" doc:"E-mail, or phone in international form."`
			Password string `json:"password" maxLength:"1000"`
			Code     string `json:"code,omitempty" maxLength:"20" doc:"Of the code app; needed after the answer code-needed."`
		}
	}
	signInPhone struct {
		Body struct {
			DeviceID string    `json:"device_id" maxLength:"64"`
			Proof    proofBody `json:"proof"`
		}
	}
	refreshBody struct {
		Body *struct {
			Proof *proofBody `json:"proof,omitempty" doc:"Phones prove their key at each renewal."`
		}
	}
	signOutBody struct {
		Authorization string `header:"Authorization" maxLength:"4096"`
	}
	nonceAnswer struct {
		Body struct {
			Nonce     string    `json:"nonce"`
			ExpiresAt time.Time `json:"expires_at"`
		}
	}
	lookBody struct {
		Body struct {
			Secret string `json:"secret" maxLength:"64"`
		}
	}
	lookAnswer struct {
		Body struct {
			Name      string         `json:"name"`
			Language  string         `json:"language"`
			Purpose   signin.Purpose `json:"purpose" enum:"phone,password,reset"`
			ExpiresAt time.Time      `json:"expires_at"`
		}
	}
	enrolBody struct {
		Body struct {
			Secret   string    `json:"secret,omitempty" maxLength:"64" doc:"From the fragment of a link; or"`
			Code     string    `json:"code,omitempty" maxLength:"64" doc:"as it was read out."`
			Key      string    `json:"key" maxLength:"1024" doc:"The phone's public key: a JWK of EC P-256 as JSON text."`
			Proof    proofBody `json:"proof"`
			Name     string    `json:"name,omitempty" maxLength:"200" doc:"What the phone calls itself."`
			Replaces string    `json:"replaces,omitempty" maxLength:"64" doc:"The device id under which this phone was enrolled before; see before."`
			Before   []string  `json:"before,omitempty" maxItems:"16" doc:"The device ids under which this phone is enrolled, for whomever: that of the same person is revoked, for the phone forgets its key."`
		}
	}
	setPassword struct {
		Body struct {
			Secret   string `json:"secret" maxLength:"64"`
			Password string `json:"password" maxLength:"1000"`
		}
	}
	loginAnswer struct {
		Body struct {
			Login string `json:"login" doc:"The name to sign in with."`
		}
	}
	wrongPIN struct {
		Body struct {
			Failures int    `json:"failures" minimum:"1" maximum:"100" doc:"Wrong PINs in a row."`
			DeviceID string `json:"device_id,omitempty" maxLength:"64" doc:"Whose PIN was tried, where several people use the phone."`
		}
	}
	outboxKey struct {
		Body keys.OutboxKey
	}
	firstRun struct {
		Body struct {
			Firm          firmBody   `json:"firm"`
			Branch        firstPlace `json:"branch"`
			Administrator firstAdmin `json:"administrator"`
		}
	}
	firstPlace struct {
		Name    string `json:"name" minLength:"1" maxLength:"200" example:"Buea"`
		Country string `json:"country,omitempty" maxLength:"2" example:"CM"`
	}
	firstAdmin struct {
		Name     string `json:"name" minLength:"1" maxLength:"200"`
		Email    string `json:"email" minLength:"3" maxLength:"200"`
		Password string `json:"password" maxLength:"1000"`
	}
)

// knock describes an operation that needs no sign-in: it is how one gets in.
// All of them are POST, so that no link and no preview spends anything.
func knock(id, path, summary string) huma.Operation {
	o := op(id, http.MethodPost, path, "sign-in", summary)
	o.Security, o.MaxBodyBytes = nil, 16<<10
	return o
}

func (f Face) signIn(api huma.API) {
	register(api, knock("sign-in", "/api/sign-in", "Sign in with a password"), f.enter)
	register(api, knock("refresh", "/api/refresh", "Renew the session of the cookie"), f.refresh)
	register(api, knock("sign-out", "/api/sign-out", "End the session of the cookie"), f.signOut)
	register(api, knock("make-nonce", "/api/nonce", "A nonce for a phone to sign"), f.nonce)
	register(api, knock("sign-in-phone", "/api/sign-in/phone", "Sign in with an enrolled phone"), f.enterPhone)
	register(api, knock("look-at-way-in", "/api/way-in/look", "For whom a link is; spends nothing"), f.look)
	register(api, knock("enrol-phone", "/api/way-in/phone", "Spend a link or code: enrol this phone and sign in"), f.enrolPhone)
	register(api, knock("set-password", "/api/way-in/password", "Spend a link: choose a password"), f.setPassword)
	register(api, knock("report-wrong-pin", "/api/way-in/wrong-pin", "Wrong PINs in a row on the phone of the cookie"), f.reportPIN)
	register(api, knock("first-run", "/api/first-run", "Set up the firm, its first branch and its administrator, once"), f.firstRun)
	register(api, op("get-outbox-key", http.MethodGet, "/api/outbox-key", "sign-in", "The public key to which phones seal their outbox"), f.outboxKey)
}

// granted is the answer of a fresh or renewed session with its cookies.
func granted(ctx context.Context, in signin.Signed, now time.Time) *grantAnswer {
	d := doorOf(ctx)
	out := &grantAnswer{Body: grantBody{
		AccessToken: in.Access, ExpiresIn: int(keys.AccessLife.Seconds()), SessionID: in.SessionID, DeviceID: in.DeviceID, Person: in.Person,
	}}
	out.SetCookie = []http.Cookie{d.cookie(sessionCookie, in.Refresh, in.Until.Sub(now))}
	if in.Browser != "" {
		out.SetCookie = append(out.SetCookie, d.cookie(browserCookie, in.Browser, browserLife))
	}
	return out
}

func (f Face) enter(ctx context.Context, in *signInBody) (*grantAnswer, error) {
	d := doorOf(ctx)
	out, err := f.SignIn.SignIn(ctx, signin.SignIn{
		Login: in.Body.Login, Password: in.Body.Password, Code: in.Body.Code,
		Network: d.network, Browser: d.browser, Cookie: d.session, Agent: d.agent,
	})
	return f.granted(ctx, out, err)
}

func (f Face) granted(ctx context.Context, in signin.Signed, err error) (*grantAnswer, error) {
	if err != nil {
		return nil, err
	}
	return granted(ctx, in, f.SignIn.Now()), nil
}

func (f Face) refresh(ctx context.Context, in *refreshBody) (*grantAnswer, error) {
	r := signin.Refresh{Cookie: doorOf(ctx).session}
	if in.Body != nil && in.Body.Proof != nil {
		r.Proof = in.Body.Proof.proof()
	}
	out, err := f.SignIn.Refresh(ctx, r)
	return f.granted(ctx, out, err)
}

func (p proofBody) proof() signin.Proof {
	return signin.Proof{Nonce: p.Nonce, Signature: p.Signature}
}

// signOut ends the session of the cookie, and that of the bearer, if any: a
// program without cookies signs out too.
func (f Face) signOut(ctx context.Context, in *signOutBody) (*leftAnswer, error) {
	d := doorOf(ctx)
	if err := f.SignIn.SignOut(ctx, d.session); err != nil {
		return nil, err
	}
	if token, ok := bearer(in.Authorization); ok {
		if who, err := f.SignIn.Authenticate(ctx, token); err == nil {
			if err := f.SignIn.EndSession(ctx, who, who.PersonID, who.SessionID); err != nil {
				return nil, err
			}
		}
	}
	return &leftAnswer{[]http.Cookie{d.cookie(sessionCookie, "", 0)}}, nil
}

func (f Face) nonce(context.Context, *struct{}) (*nonceAnswer, error) {
	n := f.SignIn.Nonce()
	out := &nonceAnswer{}
	out.Body.Nonce, out.Body.ExpiresAt = n.Text, n.Until
	return out, nil
}

func (f Face) enterPhone(ctx context.Context, in *signInPhone) (*grantAnswer, error) {
	out, err := f.SignIn.SignInPhone(ctx, in.Body.DeviceID, in.Body.Proof.proof(), doorOf(ctx).agent)
	return f.granted(ctx, out, err)
}

func (f Face) look(ctx context.Context, in *lookBody) (*lookAnswer, error) {
	e, p, err := f.SignIn.Look(ctx, in.Body.Secret)
	out := &lookAnswer{}
	out.Body.Name, out.Body.Language, out.Body.Purpose, out.Body.ExpiresAt = p.Name, p.Language, e.Purpose, e.ExpiresAt
	return out, err
}

func (f Face) enrolPhone(ctx context.Context, in *enrolBody) (*grantAnswer, error) {
	d := doorOf(ctx)
	before := in.Body.Before
	if in.Body.Replaces != "" {
		before = append(before, in.Body.Replaces)
	}
	out, err := f.SignIn.EnrolPhone(ctx, signin.EnrolPhone{
		Ticket: signin.Ticket{Secret: in.Body.Secret, Code: in.Body.Code}, Key: in.Body.Key, Proof: in.Body.Proof.proof(),
		Name: in.Body.Name, Before: before, Agent: d.agent, Network: d.network,
	})
	return f.granted(ctx, out, err)
}

func (f Face) setPassword(ctx context.Context, in *setPassword) (*loginAnswer, error) {
	login, err := f.SignIn.SetPassword(ctx, in.Body.Secret, in.Body.Password)
	out := &loginAnswer{}
	out.Body.Login = login
	return out, err
}

func (f Face) reportPIN(ctx context.Context, in *wrongPIN) (*nothing, error) {
	return nil, f.SignIn.ReportPIN(ctx, doorOf(ctx).session, in.Body.DeviceID, in.Body.Failures)
}

func (f Face) outboxKey(context.Context, *struct{}) (*outboxKey, error) {
	return &outboxKey{f.SignIn.OutboxKey()}, nil
}

// firstRun sets the house up and signs its administrator in.
func (f Face) firstRun(ctx context.Context, in *firstRun) (*grantAnswer, error) {
	b := in.Body
	_, err := f.Office.FirstRun(ctx, app.FirstRun{
		Firm:   b.Firm.firm(),
		Branch: farm.Branch{Name: b.Branch.Name, Country: b.Branch.Country},
		Admin:  farm.Person{Name: b.Administrator.Name, Email: b.Administrator.Email, Language: b.Firm.Language, Active: true},
		Password: func(ctx context.Context, personID string) error {
			_, err := f.SignIn.GivePassword(ctx, app.System, personID, b.Administrator.Password)
			return err
		},
	})
	if err != nil {
		return nil, err
	}
	d := doorOf(ctx)
	out, err := f.SignIn.SignIn(ctx, signin.SignIn{Login: b.Administrator.Email, Password: b.Administrator.Password, Network: d.network, Agent: d.agent})
	return f.granted(ctx, out, err)
}
