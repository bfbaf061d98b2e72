package server

import (
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/server/api"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/app/signin"
	"tendfold/server/app/signin/keys"
	"tendfold/server/intake"
	"tendfold/server/media"
	"tendfold/server/notify"
	"tendfold/server/store"
	"tendfold/web"

	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// signIn makes the sign-in service with the keys of this house.
func (h *House) signIn(ctx context.Context) (*signin.Service, error) {
	secrets, err := h.secrets()
	if err != nil {
		return nil, err
	}
	ring, err := keys.NewRing(secrets...)
	if err != nil {
		return nil, err
	}
	s := signin.New(signin.Needs{
		Store: h.Store, Keys: ring, Hash: signin.NewHasher(signin.HashCost, runtime.GOMAXPROCS(0)),
		Now: h.core.Now, NewID: h.core.NewID, Log: slog.Default(),
	})
	_, err = s.CheckKeys(ctx)
	return s, err
}

// secrets are given by the environment, or on SQLite made at first start and
// kept beside the database.
func (h *House) secrets() ([]keys.Secret, error) {
	if h.config.SigningKey != "" {
		return keys.ParseSecrets(h.config.SigningKey)
	}
	if h.Store.Dialect() == store.PostgreSQL {
		return nil, domain.Invalid("signing-key-missing",
			"On PostgreSQL the signing key must be given, so that all instances share it. Make one with `make secrets` and set TENDFOLD_SIGNING_KEY.")
	}
	return keys.LoadFolder(h.config.DB, rand.Reader)
}

// reach wires what leaves the house, and what gateways hand in.
func (h *House) reach() error {
	var err error
	if h.Courier, err = notify.New(h.config.Notify); err != nil {
		return err
	}
	if h.Hook, err = notify.NewHook(h.config.Notify.Hook); err != nil {
		return err
	}
	h.Reach = app.NewReach(h.core, h.Store, h.Plans, h.Queue, h.Courier)
	return nil
}

// desk wires what the desk does all day.
func (h *House) desk() {
	days := app.NewDays(h.core, h.Store, h.Plans)
	h.Trainings = app.NewTrainings(h.core, h.Store, h.Plans, days)
	h.Certificates = app.NewCertificates(h.core, h.Store, days)
	h.Requests = app.NewRequests(h.core, h.Store, h.Plans, h.Tickets)
	h.Daybooks = app.NewDaybooks(h.core, h.Store, h.Plans)
	h.Projections = app.NewProjections(h.core, h.Store, h.Plans)
	h.Finder = app.NewFinder(h.Store)
	h.Absences = app.NewAbsences(h.core, h.Store, days)
	h.CardReviews = app.NewCardReviews(h.core, h.Store, days)
	h.Calls = app.NewCalls(h.core, h.Store, h.Plans, h.Tickets, intake.Phone, h.Queue)
	h.Promises = app.NewPromises(h.core, h.Store, h.Plans, days)
	h.VisitNeeds = app.NewVisitNeeds(h.core, h.Store, h.Plans, days)
	h.Visits = app.NewVisits(h.core, h.Store, h.Plans, days, h.VisitNeeds, h.Queue)
	h.Watching = app.NewWatching(h.core, h.Store, h.Plans, h.Farms, h.Queue)
	h.Loads = app.NewLoads(h.core, h.Store, days)
	h.Feed = app.NewFeed(h.core, h.Store)
	h.Complaints = app.NewComplaints(h.core, h.Store, h.Plans, h.Reach)
	h.Outbreaks = app.NewOutbreaks(h.core, h.Store, days, h.Reach)
	h.Texts = app.NewTexts(h.core, h.Store, h.Plans, h.Tickets, h.Entries, h.Reach, intake.Phone, h.Queue)
}

// media opens the folder of photos and voice notes.
func (h *House) media() error {
	files, err := media.Open(h.mediaFolder(), h.config.MediaScanner)
	if err != nil {
		return err
	}
	h.Files, h.Media = files, app.NewMedia(h.core, h.Store, files, h.Queue)
	return nil
}

// mediaFolder is the one that was named, else one beside the database.
func (h *House) mediaFolder() string {
	switch {
	case h.config.Media != "":
		return h.config.Media
	case h.Store.Dialect() == store.SQLite:
		return filepath.Join(h.config.DB, "media")
	}
	return filepath.Join("data", "media")
}

// faces is what the HTTP face calls.
func (h *House) faces() api.Face {
	return api.Face{
		Version: h.config.Version, TrustedProxies: h.config.TrustedProxies, Web: web.Handler(), Ready: h.ready,
		SignIn: h.SignIn, PublicURL: h.config.PublicURL, Secure: h.secure(), Keys: h.Keys, Packs: h.Packs,
		Tickets: h.Tickets, Entries: h.Entries, Today: h.Today, Lessons: h.Lessons, Trainings: h.Trainings, Certificates: h.Certificates, Daybooks: h.Daybooks, Requests: h.Requests, Projections: h.Projections, TrainingCSV: intake.TrainingCSV, ReviewCSV: intake.ReviewCSV, Sweeps: h.Sweeps, Farms: h.Farms, Office: h.Office, Registry: h.Registry, Media: h.Media,
		Finder: h.Finder, Calls: h.Calls, CardReviews: h.CardReviews, Absences: h.Absences, Promises: h.Promises, VisitNeeds: h.VisitNeeds, Visits: h.Visits, Watching: h.Watching, Loads: h.Loads,
		Reach: h.Reach, Texts: h.Texts, Feed: h.Feed, Outbreaks: h.Outbreaks, Complaints: h.Complaints, Hook: h.Hook, PushKey: h.Courier.PushKey(),
		Imports: h.Imports, ReadRegister: func(file io.Reader) (register.Sheet, error) { return intake.Read(file) },
	}
}

// secure says whether browsers reach us over https.
func (h *House) secure() bool {
	return h.config.TLSCert != "" || strings.HasPrefix(h.config.PublicURL, "https://")
}

// OpenAPI is the description of the API as JSON. It needs no house.
func OpenAPI() ([]byte, error) { return api.OpenAPI(api.Face{Version: "1"}) }

// ready says whether requests can be answered: the database is there and has
// the tables of this version.
func (h *House) ready(ctx context.Context) error {
	ok, err := h.Store.Migrated(ctx)
	if err != nil {
		return err
	}
	if !ok {
		return &domain.Error{Kind: domain.KindBusy, Code: "not-migrated", Text: "The tables are of another version. Run tendfold migrate, or wait until it has run."}
	}
	return nil
}

// tidy is the daily work that keeps the database small.
func (h *House) tidy(ctx context.Context) error {
	if err := h.Keys.Purge(ctx); err != nil {
		return err
	}
	if err := h.Store.PurgeNews(ctx, h.core.Now().Add(-newsLife)); err != nil {
		return err
	}
	if _, err := h.Store.PurgeSweeps(ctx, h.core.Now().Add(-sweepLife)); err != nil {
		return err
	}
	if _, err := h.SignIn.Purge(ctx); err != nil {
		return err
	}
	if err := h.Media.Tidy(ctx); err != nil {
		return err
	}
	return h.Store.Checkpoint(ctx)
}

// newsLife is how long a desk that was away can catch up with the news; after
// it reads everything again.
const newsLife = 3 * 24 * time.Hour

// sweepLife is how long the summary of a sweep is kept.
const sweepLife = 400 * 24 * time.Hour

func serveMetrics(ctx context.Context, addr string) error {
	l, err := listen(ctx, Config{Addr: addr})
	if err != nil {
		return fmt.Errorf("metrics: %w", err)
	}
	mux := http.NewServeMux()
	mux.Handle("GET /metrics", promhttp.Handler())
	return serve(ctx, l, mux)
}
