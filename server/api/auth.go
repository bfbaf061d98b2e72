package api

import (
	"context"
	"strings"

	"tendfold/domain"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type actorKey struct{}

// actor is who sends the request; authenticate has put it there for every
// operation that needs a sign-in.
func actor(ctx context.Context) app.Actor {
	who, _ := ctx.Value(actorKey{}).(app.Actor)
	return who
}

// authenticate comes before validation: whoever is not signed in learns
// nothing about what a request should look like.
func (f Face) authenticate(api huma.API) func(huma.Context, func(huma.Context)) {
	return func(c huma.Context, next func(huma.Context)) {
		if len(c.Operation().Security) == 0 {
			next(c)
			return
		}
		token, ok := bearer(c.Header("Authorization"))
		if !ok {
			refuse(api, c, &domain.Error{Kind: domain.KindUnauthenticated, Code: "not-signed-in", Text: "Sign in first, then send the access token as a bearer."})
			return
		}
		who, err := f.SignIn.Authenticate(c.Context(), token)
		if err != nil {
			refuse(api, c, err)
			return
		}
		next(huma.WithValue(c, actorKey{}, who))
	}
}

// bearer is the token of an Authorization header (RFC 6750 section 2.1).
func bearer(header string) (string, bool) {
	scheme, token, _ := strings.Cut(header, " ")
	return token, strings.EqualFold(scheme, "Bearer") && token != ""
}

func refuse(api huma.API, c huma.Context, err error) {
	p := problem(c.Context(), err)
	if p.Status == 401 {
		c.SetHeader("WWW-Authenticate", "Bearer")
	}
	_ = huma.WriteErr(api, c, p.Status, p.Detail, p) // the connection is gone when this fails
}
