package store_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"tendfold/server/store"
	"tendfold/server/store/migrations"
	"tendfold/server/store/storetest"

	"github.com/pressly/goose/v3"
	"github.com/stretchr/testify/require"
)

func TestBothDialectsHaveTheSameMigrations(t *testing.T) {
	names := func(dialect string) []string {
		return ids(migrations.Files(dialect), func(f migrations.File) string { return f.Name })
	}
	require.NotEmpty(t, names("sqlite"))
	require.Equal(t, names("sqlite"), names("postgres"))
}

func TestSchemaIsTheSameOnBothAndSurvivesDownAndUp(t *testing.T) {
	var shapes [][]string
	storetest.EachEmpty(t, func(t *testing.T, db string) {
		s := storetest.Open(t, db)
		require.NoError(t, s.Migrate(ctx))
		up := shape(t, s)
		require.NotEmpty(t, up)
		dialect := goose.DialectSQLite3
		if s.Dialect() == store.PostgreSQL {
			dialect = goose.DialectPostgres
		}
		p, err := goose.NewProvider(dialect, s.SQL(), migrations.FS(string(s.Dialect())))
		require.NoError(t, err)
		_, err = p.DownTo(ctx, 0)
		require.NoError(t, err)
		require.Empty(t, shape(t, s), "down leaves nothing behind")
		require.NoError(t, s.Migrate(ctx))
		require.Equal(t, up, shape(t, s), "up again is what it was")
		shapes = append(shapes, up)
	})
	if len(shapes) == 2 { // one only where PostgreSQL is not installed
		require.Empty(t, missing(shapes[0], shapes[1]), "only SQLite has these")
		require.Empty(t, missing(shapes[1], shapes[0]), "only PostgreSQL has these")
	}
}

// missing are the lines of a that b lacks.
func missing(a, b []string) []string {
	return slices.DeleteFunc(slices.Clone(a), func(line string) bool { return slices.Contains(b, line) })
}

// shape is the schema as a person would compare it: columns with their kind
// of value, default and key, and indexes with their columns.
func shape(t *testing.T, s *store.Store) []string {
	t.Helper()
	queries := []string{sqliteColumns, sqliteIndexes}
	if s.Dialect() == store.PostgreSQL {
		queries = []string{postgresColumns, postgresIndexes}
	}
	var out []string
	for _, q := range queries {
		rows, err := s.SQL().QueryContext(ctx, q)
		require.NoError(t, err)
		for rows.Next() {
			var line string
			require.NoError(t, rows.Scan(&line))
			out = append(out, plain(line))
		}
		require.NoError(t, rows.Err())
		require.NoError(t, rows.Close())
	}
	slices.Sort(out)
	return out
}

const (
	sqliteColumns = `SELECT 'column ' || m.name || '.' || c.name || ' ' || c.type || ' null=' || (c."notnull" = 0 AND c.pk = 0) || ' default=' || COALESCE(c.dflt_value, '') || ' key=' || (c.pk > 0)
		FROM sqlite_schema m JOIN pragma_table_info(m.name) c WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' AND m.name <> 'goose_db_version'`
	postgresColumns = `SELECT 'column ' || c.table_name || '.' || c.column_name || ' ' || c.data_type || ' null=' || (c.is_nullable = 'YES')::int || ' default=' || COALESCE(c.column_default, '') || ' key=' ||
		EXISTS (SELECT 1 FROM information_schema.table_constraints k JOIN information_schema.key_column_usage u USING (constraint_name, table_name)
			WHERE k.constraint_type = 'PRIMARY KEY' AND k.table_name = c.table_name AND u.column_name = c.column_name)::int
		FROM information_schema.columns c WHERE c.table_schema = 'public' AND c.table_name <> 'goose_db_version'`
	sqliteIndexes   = `SELECT 'index ' || sql FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL`
	postgresIndexes = `SELECT 'index ' || indexdef FROM pg_indexes WHERE schemaname = 'public' AND indexname NOT LIKE '%_pkey' AND tablename <> 'goose_db_version'`
)

var (
	casts  = regexp.MustCompile(`::(double precision|[a-z]+)`)
	spaces = regexp.MustCompile(`\s+`)
)

// plain takes away what the two say differently about the same thing.
func plain(line string) string {
	line = casts.ReplaceAllString(line, "")
	line = strings.NewReplacer("USING btree ", "", "public.", "", "(", " ", ")", " ", `"`, "").Replace(line)
	line = strings.ToLower(spaces.ReplaceAllString(line, " "))
	return strings.TrimSpace(line)
}
