// Package server wires the house: database, packs, use cases, jobs and the
// HTTP face. Only this file sees everything.
package server

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"time"

	"tendfold/checklists"
	"tendfold/server/api"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/app/signin"
	"tendfold/server/intake"
	"tendfold/server/jobs"
	"tendfold/server/media"
	"tendfold/server/notify"
	"tendfold/server/store"

	"github.com/google/uuid"
	"golang.org/x/sync/errgroup"
)

// Config is what an operator may set. The zero value of each field is safe.
type Config struct {
	DB             string        // folder of SQLite, or a PostgreSQL URL
	Packs          string        // folder with packs beside those inside, "" = none
	Media          string        // folder of photos and voice notes; "" = media in the folder of SQLite
	MediaScanner   []string      // command that looks at each of them, none = none
	Busy           time.Duration // how long to wait for another process on SQLite
	SigningKey     string        // required on PostgreSQL; made at first start on SQLite
	Addr           string        // where to listen
	PublicURL      string        // how browsers reach us
	TLSCert        string
	TLSKey         string
	TrustedProxies []string      // networks whose X-Forwarded-For is believed
	MetricsAddr    string        // "" = no metrics
	Notify         notify.Config // what leaves the house and what gateways hand in; zero = nothing
	Version        string
	Now            func() time.Time // for tests; nil = the clock
	Ready          func(address string)
}

// House is everything wired and nothing started: what a command on the host
// works with.
type House struct {
	Store        *store.Store
	Packs        *checklists.Set
	Plans        *app.Plans
	Queue        *jobs.Queue
	Keys         *app.Keys
	SignIn       *signin.Service
	Tickets      *app.Tickets
	Entries      *app.Entries
	Today        *app.Today
	Daybooks     *app.Daybooks
	Projections  *app.Projections
	Requests     *app.Requests
	Sweeps       *app.Sweeps
	Farms        *app.Farms
	Lessons      *app.Lessons
	Trainings    *app.Trainings
	Certificates *app.Certificates
	Office       *app.Office
	Registry     *app.Registry
	Media        *app.Media
	Files        *media.Keeper

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
	Feed        *app.Feed
	Outbreaks   *app.Outbreaks
	Complaints  *app.Complaints
	Hook        *notify.Hook
	Courier     *notify.Courier

	Imports *register.Imports

	config Config
	core   app.Core
}

// Open opens the database, makes or migrates its tables, reads the packs and
// wires the use cases.
func Open(ctx context.Context, cfg Config) (*House, error) {
	if cfg.Now == nil {
		cfg.Now = time.Now
	}
	packs, err := loadPacks(cfg.Packs)
	if err != nil {
		return nil, err
	}
	db, err := store.Open(ctx, store.Config{DB: cfg.DB, Busy: cfg.Busy})
	if err != nil {
		return nil, err
	}
	h, err := wire(ctx, cfg, db, packs)
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return h, nil
}

func loadPacks(folder string) (*checklists.Set, error) {
	packs, err := checklists.Embedded()
	if err != nil {
		return nil, fmt.Errorf("the packs inside: %w", err)
	}
	if folder == "" {
		return packs, nil
	}
	return packs, packs.Add(os.DirFS(folder))
}

func wire(ctx context.Context, cfg Config, db *store.Store, packs *checklists.Set) (*House, error) {
	h := &House{Store: db, Packs: packs, config: cfg}
	if err := db.Migrate(ctx); err != nil {
		return nil, err
	}
	if err := jobs.Migrate(ctx, h.jobs()); err != nil {
		return nil, err
	}
	queue, err := jobs.NewQueue(h.jobs())
	if err != nil {
		return nil, err
	}
	h.core = app.Core{Store: db, Packs: packs, Now: func() time.Time { return cfg.Now().UTC().Truncate(time.Microsecond) }, NewID: newID}
	h.Queue, h.Plans = queue, app.NewPlans(db, packs)
	if err := h.reach(); err != nil {
		return nil, err
	}
	h.Tickets = app.NewTickets(h.core, db, h.Plans, queue, h.Reach)
	h.Entries = app.NewEntries(h.core, db, h.Plans, h.Tickets, queue)
	h.Today = app.NewToday(h.core, db, h.Plans)
	h.Lessons = app.NewLessons(packs)
	h.Sweeps = app.NewSweeps(h.core, db, h.Plans)
	h.Keys = app.NewKeys(h.core, db)
	h.Farms = app.NewFarms(h.core, db, h.Plans)
	h.Office = app.NewOffice(h.core, db, h.Plans, intake.Phone, queue)
	h.Registry = app.NewRegistry(h.core, db, h.Plans, intake.Phone, queue)
	h.desk()
	if err := h.media(); err != nil {
		return nil, err
	}
	h.Imports = register.NewImports(h.core, db, h.Plans, queue)
	h.SignIn, err = h.signIn(ctx)
	return h, err
}

func (h *House) jobs() jobs.Config {
	c := jobs.Config{DB: h.Store}
	if h.Store.Dialect() == store.PostgreSQL {
		c.Postgres = h.config.DB
	}
	return c
}

// newID is a UUID of version 7: it sorts by the time of its making.
func newID() string { return uuid.Must(uuid.NewV7()).String() }

// Close closes the database.
func (h *House) Close() error { return h.Store.Close() }

// Run serves until ctx ends.
func Run(ctx context.Context, cfg Config) error {
	h, err := Open(ctx, cfg)
	if err != nil {
		return err
	}
	return errors.Join(h.Serve(ctx), h.Close())
}

// Serve listens, works jobs off, and ends both when ctx ends.
func (h *House) Serve(ctx context.Context) error {
	listener, err := listen(ctx, h.config)
	if err != nil {
		return err
	}
	g, ctx := errgroup.WithContext(ctx)
	g.Go(func() error { return serve(ctx, listener, h.Handler()) })
	g.Go(func() error { <-ctx.Done(); h.Feed.Close(); return nil })
	g.Go(func() error {
		return jobs.Run(ctx, h.jobs(), jobs.Work{Sweeps: h.Sweeps, Reach: h.Reach, Outbreaks: h.Outbreaks, Tidy: h.tidy})
	})
	if h.config.MetricsAddr != "" {
		g.Go(func() error { return serveMetrics(ctx, h.config.MetricsAddr) })
	}
	if h.config.Ready != nil {
		h.config.Ready(listener.Addr().String())
	}
	return g.Wait()
}

// Handler is the whole HTTP face: API, web app and health.
func (h *House) Handler() http.Handler { return api.New(h.faces()) }

func listen(ctx context.Context, cfg Config) (net.Listener, error) {
	l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", cfg.Addr)
	if err != nil {
		return nil, fmt.Errorf("listen on %s (is another Tendfold running there? choose another with --addr): %w", cfg.Addr, err)
	}
	if cfg.TLSCert == "" {
		return l, nil
	}
	pair, err := tls.LoadX509KeyPair(cfg.TLSCert, cfg.TLSKey)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("read the TLS certificate and key: %w", err), l.Close())
	}
	return tls.NewListener(l, &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}}), nil
}

// Timeouts: a phone on a 2G link may take long to send a photo, but nobody
// may hold a connection open for ever.
const (
	headerTimeout = 10 * time.Second
	bodyTimeout   = 2 * time.Minute
	idleTimeout   = 2 * time.Minute
	graceTimeout  = 10 * time.Second
)

func serve(ctx context.Context, l net.Listener, handler http.Handler) error {
	srv := &http.Server{
		Handler: handler, ReadHeaderTimeout: headerTimeout, ReadTimeout: bodyTimeout, IdleTimeout: idleTimeout,
		ErrorLog: slog.NewLogLogger(slog.Default().Handler(), slog.LevelWarn), MaxHeaderBytes: 32 << 10,
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), graceTimeout)
		defer cancel()
		return srv.Shutdown(grace)
	}
}
