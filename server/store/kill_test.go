package store_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"

	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// killVar names the database to a child process of TestKilledWriters.
const killVar = "TENDFOLD_TEST_KILLED"

// kills is how often a writer is killed. PostgreSQL is another process, which
// the killing does not touch: a few show that it drops what was under way.
var kills = map[store.Dialect]int{store.SQLite: 200, store.PostgreSQL: 20}

// A writer is killed (SIGKILL) in the midst of its work, two hundred times.
// What it said was saved is there, and nothing is there by half: each of its
// transactions counts a change, appends an entry and writes an audit line.
func TestKilledWriters(t *testing.T) {
	if db := os.Getenv(killVar); db != "" {
		writeUntilKilled(t, db)
		return
	}
	storetest.EachDB(t, func(t *testing.T, db string) {
		s := storetest.Open(t, db)
		w := newWorld(t, s)
		r := rand.New(rand.NewPCG(7, 11))
		saved := map[string]bool{}
		for round := range kills[s.Dialect()] {
			for _, id := range killAfter(t, db, round, r.IntN(6)) {
				saved[id] = true
			}
			if round%20 == 19 {
				whole(t, w, saved)
			}
		}
		require.GreaterOrEqual(t, len(saved), kills[s.Dialect()], "the writers got something done")
	})
}

// killAfter starts a writer, kills it once it has saved so many more, and
// returns what it said was saved.
func killAfter(t *testing.T, db string, round, more int) []string {
	t.Helper()
	child := exec.CommandContext(ctx, os.Args[0], "-test.run=^TestKilledWriters$") // this very program
	child.Env = append(os.Environ(), killVar+"="+db, fmt.Sprintf("%s_ROUND=%d", killVar, round))
	out, err := child.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, child.Start())
	var ids []string
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		ids = append(ids, lines.Text())
		if len(ids) > more {
			break
		}
	}
	require.NoError(t, child.Process.Kill())
	for lines.Scan() { // what was said before the end is said too
		ids = append(ids, lines.Text())
	}
	require.Error(t, child.Wait(), "it was killed, and did not end by itself")
	return ids
}

// writeUntilKilled is the writer. It says an id only after its commit.
func writeUntilKilled(t *testing.T, db string) {
	s, err := store.Open(ctx, store.Config{DB: db})
	require.NoError(t, err)
	for i := 0; ; i++ {
		id := fmt.Sprintf("k%s-%06d", os.Getenv(killVar+"_ROUND"), i)
		require.NoError(t, s.InTx(ctx, func(ctx context.Context) error {
			if err := s.CountChange(ctx, "f1"); err != nil {
				return err
			}
			if _, err := s.AppendEvents(ctx, event(id, "f1", 0)); err != nil {
				return err
			}
			return s.Record(ctx, id, now, "ana", app.Change{Verb: "report", Thing: "event", ThingID: id, FarmID: "f1"})
		}))
		fmt.Println(id)
	}
}

func whole(t *testing.T, w *world, saved map[string]bool) {
	t.Helper()
	count := func(query string) (n int) {
		t.Helper()
		require.NoError(t, w.SQL().QueryRowContext(ctx, query).Scan(&n))
		return n
	}
	events := count("SELECT COUNT(*) FROM events")
	require.Equal(t, events, count("SELECT COUNT(*) FROM audit"))
	require.Equal(t, events, count("SELECT changes FROM farms WHERE id = 'f1'"))
	for id := range saved {
		_, err := w.Event(ctx, app.Everything, id)
		require.NoError(t, err, "saved, and lost")
	}
	if w.Dialect() == store.SQLite {
		var verdict string
		require.NoError(t, w.SQL().QueryRowContext(ctx, "PRAGMA integrity_check").Scan(&verdict))
		require.Equal(t, "ok", verdict)
	}
}
