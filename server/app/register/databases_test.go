package register_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/app/register/registertest"
	"tendfold/server/intake"
	"tendfold/server/intake/messy/sheet"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
)

var now = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

func importsInto(t testing.TB, db *store.Store) *register.Imports {
	packs, err := shipped()
	require.NoError(t, err)
	core := app.Core{
		Store: db, Packs: packs, Now: func() time.Time { return now },
		NewID: func() string { return uuid.Must(uuid.NewV7()).String() },
	}
	return register.NewImports(core, db, app.NewPlans(db, packs), &registertest.Queue{})
}

func messy(t testing.TB, rows int) (sheet.Sheet, []byte) {
	s := sheet.Make(sheet.Settings{Rows: rows, Seed: 1, Today: now.Truncate(24 * time.Hour)})
	var file bytes.Buffer
	require.NoError(t, s.CSV(&file, ';', "windows-1252"))
	return s, file.Bytes()
}

func run(t testing.TB, i *register.Imports, data []byte) register.Answer {
	table, err := intake.Read(bytes.NewReader(data))
	require.NoError(t, err)
	in := register.Import{Sheet: table, Name: "register.csv", Commit: true, Branch: farm.Branch{Zone: "Africa/Douala"}}
	r, err := i.Run(context.Background(), app.System, in)
	require.NoError(t, err)
	return r.Tell("en", table.Header(), true)
}

// What holds in memory holds on both databases: the verdicts, that the same
// file changes nothing, that an export changes nothing, that a changed cell
// is written.
func TestOnBothDatabases(t *testing.T) {
	packs, err := shipped()
	require.NoError(t, err)
	storetest.Each(t, func(t *testing.T, db *store.Store) {
		imports := importsInto(t, db)
		s, data := messy(t, 300)
		want, doubles := s.Counts()
		a := run(t, imports, data)
		require.Equal(t, [4]int{want["new"], want["same"], want["refused"], doubles}, [4]int{a.New, a.Same, a.Refused, a.Doubles})
		a = run(t, imports, data)
		require.Equal(t, [3]int{0, 0, want["refused"]}, [3]int{a.New, a.Changed, a.Refused})

		snap, err := db.RegisterSnapshot(context.Background())
		require.NoError(t, err)
		require.Len(t, snap.Units, want["new"])
		var out bytes.Buffer
		require.NoError(t, intake.WriteRegister(&out, register.Lines(snap, packs.Pack)))
		a = run(t, imports, out.Bytes())
		require.Equal(t, want["new"], a.Same)

		// One cell, one start, one purpose: each row says what changed.
		a = run(t, imports, []byte(head+hill))
		require.Equal(t, 1, a.New)
		for _, c := range [][2]string{{",Buea,4.15", ",Limbe,4.15"}, {"2026-02-12", "2026-02-14"}, {"grow-out", "breeding"}, {"2026-04-12,900", "2026-04-14,950"}, {"Ana Ngole,677223344", "Paul Eto,677556677"}} {
			changed := []byte(head + strings.Replace(hill, c[0], c[1], 1))
			require.Equal(t, 1, run(t, imports, changed).Changed, c)
			require.Equal(t, 1, run(t, imports, changed).Same, c)
		}
	})
}

// Two people who import the same register at once make it once.
func TestTwoImportsAtOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, db *store.Store) {
		s, data := messy(t, 60)
		want, _ := s.Counts()
		var wait sync.WaitGroup
		answers := make([]register.Answer, 3)
		for i := range answers {
			wait.Go(func() { answers[i] = run(t, importsInto(t, db), data) })
		}
		wait.Wait()
		made := 0
		for _, a := range answers {
			made += a.New
			require.Zero(t, a.Changed)
		}
		require.Equal(t, want["new"], made)
		snap, err := db.RegisterSnapshot(context.Background())
		require.NoError(t, err)
		require.Len(t, snap.Units, want["new"])
	})
}

// breaks fails at the last write of an import.
type breaks struct{ *store.Store }

func (breaks) RecordAll(context.Context, time.Time, string, func() string, []app.Change) error {
	return &domain.Error{Kind: domain.KindBusy, Code: "disk-full"}
}

func TestABrokenImportLeavesNothing(t *testing.T) {
	storetest.Each(t, func(t *testing.T, db *store.Store) {
		packs, err := shipped()
		require.NoError(t, err)
		ids := 0
		core := app.Core{Store: db, Packs: packs, Now: func() time.Time { return now }, NewID: func() string { ids++; return fmt.Sprintf("id%06d", ids) }}
		broken := register.NewImports(core, breaks{db}, app.NewPlans(db, packs), &registertest.Queue{})
		table, err := intake.Read(strings.NewReader(head + hill))
		require.NoError(t, err)
		_, err = broken.Run(context.Background(), app.System, register.Import{Sheet: table, Commit: true})
		require.Equal(t, "disk-full", domain.CodeOf(err))
		snap, err := db.RegisterSnapshot(context.Background())
		require.NoError(t, err)
		require.Empty(t, snap.Units)
		require.Empty(t, snap.Clients)
		require.Empty(t, snap.Branches)
		require.Equal(t, 1, run(t, importsInto(t, db), []byte(head+hill)).New)
	})
}
