package server_test

import (
	"bytes"
	"context"
	"sync"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/housetest"
	"tendfold/server/intake"
	"tendfold/server/intake/messy/sheet"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// take reads a messy register of so many rows into the house and starts
// watching its farms.
func take(t *testing.T, h *housetest.House, rows int) {
	t.Helper()
	made := sheet.Make(sheet.Settings{Rows: rows, Seed: 7, Today: h.Now().Truncate(24 * time.Hour)})
	var file bytes.Buffer
	require.NoError(t, made.CSV(&file, ';', "utf-8"))
	table, err := intake.Read(&file)
	require.NoError(t, err)
	_, err = h.Imports.Run(t.Context(), app.System, register.Import{
		Sheet: table, Name: "register.csv", Commit: true, Watch: true, Branch: farm.Branch{Zone: "Africa/Douala"},
	})
	require.NoError(t, err)
}

func sweepOn(t *testing.T, h *housetest.House, on calendar.Date) app.SweepSummary {
	t.Helper()
	sum, err := h.Sweeps.All(context.Background(), on, nil)
	require.NoError(t, err)
	return sum
}

// From a register to tickets; a sweep that is run again, as often as one
// likes, changes nothing.
func TestSweepingAgainChangesNothing(t *testing.T) {
	housetest.EachEmpty(t, func(t *testing.T, h *housetest.House) {
		take(t, h, 60)
		first := sweepOn(t, h, 0)
		require.Positive(t, first.Farms)
		require.Positive(t, first.Opened)
		require.Equal(t, first.Opened, first.Open)
		for range 3 {
			again := sweepOn(t, h, 0)
			require.Equal(t, first.Standings, again.Standings)
			require.Equal(t, []int{0, 0, 0, 0, first.Open}, []int{again.Opened, again.Reopened, again.Updated, again.Cleared, again.Open})
		}
	})
}

// A day that lies before the last sweep is told and changes nothing.
func TestSweepingAnEarlierDayOnlyTells(t *testing.T) {
	housetest.EachEmpty(t, func(t *testing.T, h *housetest.House) {
		take(t, h, 60)
		first := sweepOn(t, h, 0)
		past := sweepOn(t, h, calendar.FromTime(h.Now()).Add(-30))
		require.True(t, past.Reported)
		require.Zero(t, past.Opened+past.Reopened+past.Updated+past.Cleared)
		require.Equal(t, first.Open, sweepOn(t, h, 0).Open)
	})
}

// A sweep for a day to come, by a slip of the hand, does not keep today's
// sweeps from watching.
func TestTodayTakesOverFromADayToCome(t *testing.T) {
	housetest.EachEmpty(t, func(t *testing.T, h *housetest.House) {
		take(t, h, 60)
		first := sweepOn(t, h, 0)
		later := sweepOn(t, h, calendar.FromTime(h.Now()).Add(3000))
		require.NotEqual(t, first.Standings, later.Standings)
		again := sweepOn(t, h, 0)
		require.False(t, again.Reported)
		require.Equal(t, first.Standings, again.Standings)
		for range 20 { // until all that only that day had has recovered
			h.Pass(24 * time.Hour)
			again = sweepOn(t, h, 0)
		}
		require.Less(t, again.Open, later.Open)
	})
}

// Two processes sweep at once, twice each: every finding has one ticket, as
// if one had swept alone.
func TestSweepingFromTwoProcessesAtOnce(t *testing.T) {
	alone := housetest.Open(t, storetest.Folder(t))
	take(t, alone, 60)
	want := sweepOn(t, alone, 0).Open

	storetest.EachDB(t, func(t *testing.T, db string) {
		one, two := housetest.Open(t, db), housetest.Open(t, db)
		take(t, one, 60)
		var wg sync.WaitGroup
		for _, h := range []*housetest.House{one, two, one, two} {
			wg.Go(func() {
				_, err := h.Sweeps.All(context.Background(), 0, nil)
				require.NoError(t, err)
			})
		}
		wg.Wait()
		after := sweepOn(t, one, 0)
		require.Equal(t, want, after.Open)
		require.Zero(t, after.Opened+after.Reopened+after.Updated+after.Cleared)
	})
}
