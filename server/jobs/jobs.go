// Package jobs does the work behind the requests: it queues jobs in the
// transaction of what they are about, and works them off. A worker here only
// calls a use case, and every job may run twice without harm.
package jobs

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"tendfold/server/app"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"
	"github.com/riverqueue/river/rivermigrate"
)

// Database is what the queue needs of the store.
type Database interface {
	SQL() *sql.DB
	SQLTx(ctx context.Context) (*sql.Tx, error)
	CountChange(ctx context.Context, farmID string) error
}

// Config says which database the queue lives in.
type Config struct {
	DB       Database
	Postgres string // URL of the database when it is PostgreSQL, "" on SQLite
	Logger   *slog.Logger
}

// Queue puts jobs behind transactions. It implements app.Queue.
type Queue struct {
	db     Database
	client *river.Client[*sql.Tx]
}

// SweepFarm is the job of one farm's sweep after a change.
type SweepFarm struct {
	FarmID string `json:"farm_id"`
}

// Kind names the job in the queue's table.
func (SweepFarm) Kind() string { return "sweep-farm" }

// SweepAll is the job of the hourly sweep of all farms.
type SweepAll struct{}

// Kind names the job in the queue's table.
func (SweepAll) Kind() string { return "sweep-all" }

// Tidy is the daily job that forgets old keys and folds the write-ahead log.
type Tidy struct{}

// Kind names the job in the queue's table.
func (Tidy) Kind() string { return "tidy" }

// SendMessage is the job of one message that leaves the house.
type SendMessage struct {
	ID string `json:"id"`
}

// Kind names the job in the queue's table.
func (SendMessage) Kind() string { return "send-message" }

// Retry is the hourly job that takes up messages whose job is gone.
type Retry struct{}

// Kind names the job in the queue's table.
func (Retry) Kind() string { return "retry-messages" }

// LookForOutbreaks is the daily job that tells managers of the same sign on
// neighbouring farms.
type LookForOutbreaks struct{}

// Kind names the job in the queue's table.
func (LookForOutbreaks) Kind() string { return "look-for-outbreaks" }

// sendTries is how often a message is tried: with River's pauses, which grow
// with the fourth power of the try, for about a day and a half.
const sendTries = 16

func driver(cfg Config, listener *pgxpool.Pool) riverdriver.Driver[*sql.Tx] {
	switch {
	case cfg.Postgres == "":
		return riversqlite.New(cfg.DB.SQL())
	case listener != nil:
		return riverdatabasesql.NewWithPgxListener(cfg.DB.SQL(), listener)
	default:
		return riverdatabasesql.New(cfg.DB.SQL())
	}
}

// Migrate makes the queue's tables. It may run when they are there.
func Migrate(ctx context.Context, cfg Config) error {
	m, err := rivermigrate.New(driver(cfg, nil), &rivermigrate.Config{Logger: quiet(cfg.Logger)})
	if err != nil {
		return fmt.Errorf("prepare the job tables: %w", err)
	}
	if _, err := m.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
		return fmt.Errorf("make the job tables: %w", err)
	}
	return nil
}

// NewQueue is a queue that takes jobs and works none.
func NewQueue(cfg Config) (*Queue, error) {
	client, err := river.NewClient(driver(cfg, nil), &river.Config{Logger: quiet(cfg.Logger)})
	if err != nil {
		return nil, fmt.Errorf("open the job queue: %w", err)
	}
	return &Queue{db: cfg.DB, client: client}, nil
}

// SweepFarm queues a farm's sweep behind ctx's transaction.
func (q *Queue) SweepFarm(ctx context.Context, farmID string) error {
	if err := q.db.CountChange(ctx, farmID); err != nil {
		return err
	}
	return q.insert(ctx, SweepFarm{FarmID: farmID})
}

// SweepAll queues a sweep of all farms behind ctx's transaction.
func (q *Queue) SweepAll(ctx context.Context) error { return q.insert(ctx, SweepAll{}) }

// SendMessage queues the sending of a message behind ctx's transaction.
func (q *Queue) SendMessage(ctx context.Context, id string, at time.Time) error {
	tx, err := q.db.SQLTx(ctx)
	if err != nil {
		return err
	}
	if _, err := q.client.InsertTx(ctx, tx, SendMessage{ID: id}, &river.InsertOpts{ScheduledAt: at, MaxAttempts: sendTries}); err != nil {
		return fmt.Errorf("queue a message: %w", err)
	}
	return nil
}

func (q *Queue) insert(ctx context.Context, args river.JobArgs) error {
	tx, err := q.db.SQLTx(ctx)
	if err != nil {
		return err
	}
	if _, err := q.client.InsertTx(ctx, tx, args, nil); err != nil {
		return fmt.Errorf("queue %s: %w", args.Kind(), err)
	}
	return nil
}

// Work is what the workers call.
type Work struct {
	Sweeps    *app.Sweeps
	Reach     *app.Reach
	Outbreaks *app.Outbreaks
	Tidy      func(ctx context.Context) error
}

// Timeouts: a job that dies with its process is taken up again soon after the
// longest that it may last.
const (
	jobTimeout = 4 * time.Minute
	rescue     = 5 * time.Minute
)

// Run works jobs off until ctx ends, then lets those under way finish.
func Run(ctx context.Context, cfg Config, w Work) error {
	workers := river.NewWorkers()
	river.AddWorker(workers, river.WorkFunc(func(ctx context.Context, j *river.Job[SweepFarm]) error {
		return w.Sweeps.Farm(ctx, j.Args.FarmID)
	}))
	river.AddWorker(workers, river.WorkFunc(func(ctx context.Context, _ *river.Job[SweepAll]) error {
		_, err := w.Sweeps.All(ctx, 0, nil)
		return err
	}))
	river.AddWorker(workers, river.WorkFunc(func(ctx context.Context, j *river.Job[SendMessage]) error {
		err := w.Reach.Deliver(ctx, j.Args.ID, j.Attempt >= j.MaxAttempts)
		if wait, ok := errors.AsType[app.NotYet](err); ok {
			return river.JobSnooze(wait.After)
		}
		return err
	}))
	river.AddWorker(workers, river.WorkFunc(func(ctx context.Context, _ *river.Job[LookForOutbreaks]) error { return w.Outbreaks.Tell(ctx) }))
	river.AddWorker(workers, river.WorkFunc(func(ctx context.Context, _ *river.Job[Retry]) error { return w.Reach.Retry(ctx) }))
	river.AddWorker(workers, river.WorkFunc(func(ctx context.Context, _ *river.Job[Tidy]) error { return w.Tidy(ctx) }))

	listener, err := listen(ctx, cfg)
	if err != nil {
		return err
	}
	if listener != nil {
		defer listener.Close()
	}
	client, err := river.NewClient(driver(cfg, listener), &river.Config{
		Logger: quiet(cfg.Logger), Workers: workers, Queues: map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: 2}},
		FetchPollInterval: time.Second, JobTimeout: jobTimeout, RescueStuckJobsAfter: rescue,
		PeriodicJobs: []*river.PeriodicJob{every(time.Hour, SweepAll{}), every(24*time.Hour, Tidy{}), every(time.Hour, Retry{}), every(24*time.Hour, LookForOutbreaks{})},
	})
	if err != nil {
		return fmt.Errorf("open the job queue: %w", err)
	}
	if err := client.Start(context.WithoutCancel(ctx)); err != nil {
		return fmt.Errorf("start the workers: %w", err)
	}
	<-ctx.Done()
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := client.Stop(stop); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("stop the workers: %w", err)
	}
	return nil
}

// every is periodic work. A process that was down while it was due runs it
// late, once: unique within its period.
func every(d time.Duration, args river.JobArgs) *river.PeriodicJob {
	return river.NewPeriodicJob(river.PeriodicInterval(d), func() (river.JobArgs, *river.InsertOpts) {
		return args, &river.InsertOpts{UniqueOpts: river.UniqueOpts{ByPeriod: d}}
	}, &river.PeriodicJobOpts{ID: args.Kind(), RunOnStart: true})
}

// listen opens the connection on which PostgreSQL announces jobs; SQLite has
// none and is polled.
func listen(ctx context.Context, cfg Config) (*pgxpool.Pool, error) {
	if cfg.Postgres == "" {
		return nil, nil // no listener is an answer, not an error
	}
	c, err := pgxpool.ParseConfig(cfg.Postgres)
	if err != nil {
		return nil, fmt.Errorf("read the database URL: %w", err)
	}
	c.MaxConns = 2
	pool, err := pgxpool.NewWithConfig(ctx, c)
	if err != nil {
		return nil, fmt.Errorf("listen for jobs: %w", err)
	}
	return pool, nil
}

// quiet keeps the queue's chatter out of our log: only what goes wrong.
func quiet(l *slog.Logger) *slog.Logger {
	if l == nil {
		l = slog.Default()
	}
	return slog.New(warnings{l.Handler()})
}

type warnings struct{ slog.Handler }

// Enabled lets warnings and errors through.
func (w warnings) Enabled(ctx context.Context, level slog.Level) bool {
	return level >= slog.LevelWarn && w.Handler.Enabled(ctx, level)
}

// WithAttrs keeps the filter.
func (w warnings) WithAttrs(attrs []slog.Attr) slog.Handler {
	return warnings{w.Handler.WithAttrs(attrs)}
}

// WithGroup keeps the filter.
func (w warnings) WithGroup(name string) slog.Handler { return warnings{w.Handler.WithGroup(name)} }
