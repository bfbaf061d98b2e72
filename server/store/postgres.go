package store

import (
	"context"
	"time"

	"tendfold/domain"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
	"gorm.io/driver/postgres"
	"gorm.io/gorm"
)

// postgresConns is the size of the pool when none is set.
const postgresConns = 16

// connectTimeout bounds one attempt to reach the server, so that an
// unreachable one is an answer and not a hang.
const connectTimeout = 5 * time.Second

// openPostgres opens one pool for reads and writes.
func openPostgres(ctx context.Context, c Config) (*Store, error) {
	cfg, err := pgx.ParseConfig(c.DB)
	if err != nil {
		// The cause is left out: it repeats the address, and with it the password.
		return nil, domain.Invalid("database-address", "The PostgreSQL address cannot be read. It looks like postgres://user@host:5432/name.")
	}
	if cfg.ConnectTimeout == 0 {
		cfg.ConnectTimeout = connectTimeout
	}
	cfg.RuntimeParams["application_name"] = "tendfold"
	cfg.RuntimeParams["timezone"] = "UTC"
	pool := stdlib.OpenDB(*cfg)
	conns := c.MaxConns
	if conns <= 0 {
		conns = postgresConns
	}
	pool.SetMaxOpenConns(conns)
	pool.SetMaxIdleConns(conns)
	pool.SetConnMaxIdleTime(5 * time.Minute)
	if err := pool.PingContext(ctx); err != nil {
		return nil, closeAfter(mapError(err, "database"), pool)
	}
	db, err := gorm.Open(postgres.New(postgres.Config{Conn: newPrepared(pool)}), gormConfig())
	if err != nil {
		return nil, closeAfter(mapError(err, "database"), pool)
	}
	s := &Store{dialect: PostgreSQL, write: db, read: db}
	s.pools = append(s.pools, pool)
	return s, nil
}
