// Package api is the HTTP face: every operation is a typed Go function from
// which OpenAPI 3.1, validation and problems come. It decides nothing; who
// may do what is decided in app.
package api

import (
	"context"
	"io"
	"net/http"
	"reflect"
	"strings"

	"tendfold/checklists"
	"tendfold/server/app"
	"tendfold/server/app/signin"
	"tendfold/server/notify"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"

	sheets "tendfold/server/app/register"
)

// Face is what the HTTP face calls.
type Face struct {
	Version        string
	TrustedProxies []string
	Web            http.Handler                    // the web app: every address that is not the API's
	Ready          func(ctx context.Context) error // migrated, packs read, database answering
	SignIn         *signin.Service
	PublicURL      string // how browsers reach us, "" = as they say
	Secure         bool   // browsers speak https, be it with us or with a proxy before us
	Keys           *app.Keys
	Packs          *checklists.Set

	Tickets      *app.Tickets
	Entries      *app.Entries
	Today        *app.Today
	Daybooks     *app.Daybooks
	Projections  *app.Projections
	Requests     *app.Requests
	Lessons      *app.Lessons
	Trainings    *app.Trainings
	Certificates *app.Certificates
	Sweeps       *app.Sweeps
	Farms        *app.Farms
	Office       *app.Office
	Registry     *app.Registry
	Media        *app.Media

	Finder      *app.Finder
	Calls       *app.Calls
	Absences    *app.Absences
	CardReviews *app.CardReviews
	Promises    *app.Promises
	VisitNeeds  *app.VisitNeeds
	Visits      *app.Visits
	Watching    *app.Watching
	Loads       *app.Loads
	Reach       *app.Reach
	Texts       *app.Texts
	Hook        *notify.Hook
	Feed        *app.Feed
	Outbreaks   *app.Outbreaks
	Complaints  *app.Complaints
	PushKey     string // by which browsers subscribe, "" = no web push

	Imports *sheets.Imports

	// TrainingCSV writes a training record for a spreadsheet.
	TrainingCSV func(rows []app.RecordRow) ([]byte, error)
	// ReviewCSV writes what no veterinarian has checked yet.
	ReviewCSV func(cards []app.CardStatus) ([]byte, error)

	// ReadRegister turns an uploaded file into rows.
	ReadRegister func(file io.Reader) (sheets.Sheet, error)
}

// maxBody is the largest body of an ordinary operation, in bytes; intake and
// sync name their own.
const maxBody = 1 << 20

// New is the whole HTTP face.
func New(f Face) http.Handler {
	gin.SetMode(gin.ReleaseMode)
	router := gin.New()
	router.HandleMethodNotAllowed = true
	if err := router.SetTrustedProxies(f.TrustedProxies); err != nil {
		panic(err) // checked when the settings were read
	}
	router.Use(requestID, logged, recovered, secured, f.sameOrigin(), f.atDoor, throttled(), inflated, packed)
	api := newAPI(router, f)
	f.resources(api)
	router.GET("/openapi.json", func(c *gin.Context) { c.JSON(http.StatusOK, api.OpenAPI()) })
	router.GET("/healthz", func(c *gin.Context) { c.String(http.StatusOK, "alive\n") })
	router.GET("/readyz", f.ready)
	router.NoRoute(f.otherwise)
	router.NoMethod(wrongMethod)
	return router
}

// OpenAPI is the description of the API as JSON, without serving it.
func OpenAPI(f Face) ([]byte, error) {
	gin.SetMode(gin.ReleaseMode)
	api := newAPI(gin.New(), f)
	f.resources(api)
	return api.OpenAPI().MarshalJSON()
}

// resources registers every operation: one method a resource, one file each.
func (f Face) resources(api huma.API) {
	f.signIn(api)
	f.me(api)
	f.ways(api)
	f.tickets(api)
	f.entries(api)
	f.phone(api)
	f.daybooks(api)
	f.projections(api)
	f.requests(api)
	f.media(api)
	f.lessons(api)
	f.triage(api)
	f.trainings(api)
	f.farms(api)
	f.packs(api)
	f.office(api)
	f.registry(api)
	f.search(api)
	f.calls(api)
	f.promises(api)
	f.absences(api)
	f.visits(api)
	f.watching(api)
	f.reach(api)
	f.texts(api)
	f.news(api)
	f.complaints(api)
	f.intake(api)
}

func newAPI(router *gin.Engine, f Face) huma.API {
	huma.NewError = humaError
	huma.DefaultArrayNullable = false // a list is empty, never null
	cfg := huma.DefaultConfig("Tendfold", f.Version)
	cfg.Info.Description = "The aftercare desk of a farm-setup consultancy: register, programme, tickets, visits. " +
		"Lists take a cursor, changes take If-Match, creates take Idempotency-Key, errors are RFC 9457 problems."
	cfg.OpenAPIPath, cfg.DocsPath, cfg.SchemasPath = "", "", ""
	cfg.CreateHooks = nil // no $schema links in answers
	cfg.Components.Schemas = huma.NewMapRegistry("#/components/schemas/", schemaName)
	cfg.Components.SecuritySchemes = map[string]*huma.SecurityScheme{
		"bearer": {Type: "http", Scheme: "bearer", BearerFormat: "JWT", Description: "An access token of ten minutes, from POST /api/sign-in or /api/refresh."},
	}
	api := humagin.New(router, cfg)
	api.UseMiddleware(f.authenticate(api))
	return api
}

// schemaName tells types of one name in two rooms apart.
func schemaName(t reflect.Type, hint string) string {
	name := huma.DefaultSchemaNamer(t, hint)
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if strings.HasSuffix(t.PkgPath(), "/checklists") && !strings.HasPrefix(name, "Pack") {
		return "Pack" + name
	}
	return name
}

// op describes an operation that needs a sign-in. The id is its name in the
// description and in the access matrix.
func op(id, method, path, tag, summary string) huma.Operation {
	return huma.Operation{
		OperationID: id, Method: method, Path: path, Tags: []string{tag}, Summary: summary,
		Security: []map[string][]string{{"bearer": {}}}, MaxBodyBytes: maxBody,
		Errors: []int{400, 401, 403, 404, 409, 412, 422, 428, 429, 503},
	}
}

// register adds an operation whose function returns our errors.
func register[I, O any](api huma.API, o huma.Operation, fn func(ctx context.Context, in *I) (*O, error)) {
	huma.Register(api, o, func(ctx context.Context, in *I) (*O, error) {
		out, err := fn(ctx, in)
		if err != nil {
			return nil, problem(ctx, err)
		}
		return out, nil
	})
}

func (f Face) ready(c *gin.Context) {
	if err := f.Ready(c.Request.Context()); err != nil {
		writeProblem(c.Writer, problem(c.Request.Context(), err))
		return
	}
	c.String(http.StatusOK, "ready\n")
}

// otherwise is every address that no operation has: under /api a problem,
// elsewhere the web app.
func (f Face) otherwise(c *gin.Context) {
	if isAPI(c.Request.URL.Path) || f.Web == nil {
		writeProblem(c.Writer, &Problem{
			Type: "/problems/no-such-address", Title: http.StatusText(http.StatusNotFound), Status: http.StatusNotFound,
			Code: "no-such-address", Detail: "There is nothing at this address. GET /openapi.json lists what there is.",
		})
		return
	}
	f.Web.ServeHTTP(c.Writer, c.Request)
}

func wrongMethod(c *gin.Context) {
	writeProblem(c.Writer, &Problem{
		Type: "/problems/wrong-method", Title: http.StatusText(http.StatusMethodNotAllowed), Status: http.StatusMethodNotAllowed,
		Code: "wrong-method", Detail: "This address does not take " + c.Request.Method + ". GET /openapi.json says what it takes.",
	})
}
