// Package api is the HTTP face: every operation is a typed Go function from
// which OpenAPI 3.1, validation and problems come. It decides nothing; who
// may do what is decided in app.
package api

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"
)

// maxBody is the largest body of an ordinary operation, in bytes; intake and
// sync name their own.
const maxBody = 1 << 20

func newAPI(router *gin.Engine, version string) huma.API {
	huma.NewError = humaError
	cfg := huma.DefaultConfig("Tendfold", version)
	cfg.Info.Description = "The aftercare desk of a farm-setup consultancy: register, programme, tickets, visits."
	cfg.OpenAPIPath, cfg.DocsPath, cfg.SchemasPath = "", "", ""
	cfg.CreateHooks = nil // no $schema links in answers
	cfg.Components.SecuritySchemes = map[string]*huma.SecurityScheme{
		"bearer": {Type: "http", Scheme: "bearer", BearerFormat: "JWT", Description: "An access token of ten minutes, from POST /api/sign-in or /api/refresh."},
	}
	return humagin.New(router, cfg)
}

// handle is a use case as huma sees it, with our errors turned into problems.
func handle[I, O any](fn func(ctx context.Context, in *I) (*O, error)) func(context.Context, *I) (*O, error) {
	return func(ctx context.Context, in *I) (*O, error) {
		out, err := fn(ctx, in)
		if err != nil {
			return nil, problem(err)
		}
		return out, nil
	}
}

// signedIn marks an operation as one that needs a bearer token.
var signedIn = []map[string][]string{{"bearer": {}}}

func notFound(c *gin.Context) {
	writeProblem(c.Writer, &Problem{
		Type: "/problems/no-such-address", Title: http.StatusText(http.StatusNotFound), Status: http.StatusNotFound,
		Code: "no-such-address", Detail: "There is nothing at this address. GET /openapi.json lists what there is.",
	})
}
