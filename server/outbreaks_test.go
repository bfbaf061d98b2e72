package server_test

import (
	"fmt"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

// report notes a sign on a farm on a day, as a report of its caretaker would.
func report(t *testing.T, h *housetest.House, farmID, sign string, daysAgo int) {
	t.Helper()
	at := h.Now().AddDate(0, 0, -daysAgo)
	terms, err := h.Plans.Terms(t.Context(), "buea")
	require.NoError(t, err)
	tk, _, err := ticket.Open(ticket.Opening{
		ID: h.NewID("t"), Seq: 1, Year: 2026, Key: ticket.Key{FarmID: farmID, Subject: sign}, Origin: ticket.FromCaretaker, Title: sign,
		Impact: ticket.High, TimeToLoss: ticket.Hours,
	}, ticket.Act{PersonID: "care", At: at, On: calendar.FromTime(at)}, terms)
	require.NoError(t, err)
	_, _, err = h.Store.OpenTicket(t.Context(), tk)
	require.NoError(t, err)
}

func TestTheSameSignOnNeighbouringFarmsReachesTheManager(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for i := range 20 {
			id := fmt.Sprintf("f%d", 100+i)
			h.AddFarm(housetest.Farm{ID: id, Client: "c1", Branch: "buea", Name: "Farm " + id, Watched: true, Began: -1})
			f, err := h.Store.Farm(t.Context(), app.Everything, id)
			require.NoError(t, err)
			f.Position = farm.Position{Lat: 4 + float64(i/5)*0.3, Lng: 9 + float64(i%5)*0.3, Known: true}
			require.NoError(t, h.Store.ChangeFarm(t.Context(), f.Farm))
			report(t, h, id, "mites", 3*i+5) // here and there, now and then
			report(t, h, id, "no-water", 4*i)
		}
		quiet := housetest.Read[app.OutbreakList](h.As("mo").Get("/api/outbreaks").OK())
		require.Empty(t, quiet.Items)
		require.InDelta(t, 0.01, quiet.Alarm, 0)
		for _, id := range []string{"f106", "f107"} { // 33 km apart is too far; so move them together
			f, err := h.Store.Farm(t.Context(), app.Everything, id)
			require.NoError(t, err)
			f.Position = farm.Position{Lat: 4.3, Lng: 9.3, Known: true}
			require.NoError(t, h.Store.ChangeFarm(t.Context(), f.Farm))
			for _, ago := range []int{0, 0, 1, 1, 2} {
				report(t, h, id, "mites", ago)
			}
		}
		list := housetest.Read[app.OutbreakList](h.As("mo").Get("/api/outbreaks").OK())
		require.Len(t, list.Items, 1)
		require.Equal(t, "mites", list.Items[0].Sign)
		require.Equal(t, []app.OutbreakAt{{FarmID: "f106", Farm: "Farm f106"}, {FarmID: "f107", Farm: "Farm f107"}}, list.Items[0].Farms)
		require.LessOrEqual(t, list.Items[0].P, 0.01)
		require.Len(t, housetest.Read[app.OutbreakList](h.As("bm").Get("/api/outbreaks").OK()).Items, 1)

		mo := person(t, h, "mo")
		mo.Email, mo.Language = "mo@example.org", "fr"
		require.NoError(t, h.Store.ChangePerson(t.Context(), mo))
		require.NoError(t, h.Outbreaks.Tell(t.Context()))
		told, err := h.Store.MessagesBy(t.Context(), h.Now().Add(-time.Hour))
		require.NoError(t, err)
		require.Equal(t, []app.MessageCount{{Channel: app.ByEmail, State: app.MessageNoGateway, Messages: 1}}, told)
		h.Pass(49 * time.Hour)
		require.NoError(t, h.Outbreaks.Tell(t.Context()))
		told, err = h.Store.MessagesBy(t.Context(), h.Now().Add(-100*time.Hour))
		require.NoError(t, err)
		require.Equal(t, 1, told[0].Messages, "nothing new, nothing told")
	})
}

func TestHowTicketsWereServed(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		load := func(who string) app.Load { return housetest.Read[app.Load](h.As(who).Get("/api/load").OK()) }
		question := obj{"title": "Leaves?", "impact": "low", "time_to_loss": "longer", "outcome": "Told"}
		h.As("ana").Post("/api/calls", obj{"farm_id": "f1", "channel": "phone", "said": "?", "ticket": question}).OK()
		say(t, h, 0) // from a call too, and open
		for i, wait := range []time.Duration{10 * time.Minute, 20 * time.Minute, 30 * time.Hour} {
			report(t, h, "f2", "mites", 0)
			h.Pass(wait)
			list := ticketsOf(h, "f2")
			id := list[len(list)-1].ID
			for _, l := range list {
				if l.FirstWordAt.IsZero() {
					id = l.ID
				}
			}
			at := h.As("ana").Get("/api/tickets/" + id).OK()
			h.As("ana").Post("/api/tickets/"+id+"/move", obj{"to": "in-hand"}, housetest.IfMatch(at.ETag())).OK()
			require.Equal(t, i+1, load("mo").Service.Spoken)
		}
		got := load("mo")
		require.Equal(t, app.Service{Calls: 2, FirstCall: 1, Spoken: 3, InTime: 2, MedianMin: 20, NinthMin: 1800, Stale: 3, StaleAtMost: 4}, got.Service)
		require.Equal(t, []app.AdvisorLoad{{PersonID: "ana", Name: "Ana Étoile", InHand: 3, Overdue: 0, Settled: 1}}, got.Advisors)
		require.Equal(t, got.Advisors, load("ana").Advisors, "her own")
		require.Empty(t, load("dou").Advisors, "nobody else's")
	})
}
