package server_test

import (
	"bufio"
	"context"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"tendfold/server/app"
	"tendfold/server/housetest"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// sse is one event of a stream.
type sse struct{ id, event, data string }

// listen opens a stream as a desk does; it ends with the test or stop.
func listen(t *testing.T, h *housetest.House, who, last string) (events <-chan sse, stop func()) {
	t.Helper()
	srv := httptest.NewServer(h.Handler())
	t.Cleanup(srv.Close)
	ctx, cancel := context.WithCancel(t.Context())
	t.Cleanup(cancel)
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, srv.URL+"/api/news", nil)
	require.NoError(t, err)
	req.Header.Set("Authorization", "Bearer "+h.As(who).Token())
	if last != "" {
		req.Header.Set("Last-Event-ID", last)
	}
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, res.StatusCode)
	require.Equal(t, "text/event-stream", res.Header.Get("Content-Type"))
	out := make(chan sse, 1000)
	go func() {
		defer close(out)
		defer res.Body.Close()
		var e sse
		for sc := bufio.NewScanner(res.Body); sc.Scan(); {
			name, value, _ := strings.Cut(sc.Text(), ": ")
			switch name {
			case "id":
				e.id = value
			case "event":
				e.event = value
			case "data":
				e.data = value
			case "":
				if e.event != "" || value != "" {
					out <- sse{e.id, e.event, e.data + value}
				}
				e = sse{}
			}
		}
	}()
	return out, cancel
}

// next is the next event of a kind.
func next(t *testing.T, events <-chan sse, kind string) sse {
	t.Helper()
	for {
		select {
		case e, open := <-events:
			require.True(t, open, "the stream ended while waiting for %s", kind)
			if e.event == kind {
				return e
			}
		case <-time.After(10 * time.Second):
			require.Fail(t, "nothing came", kind)
		}
	}
}

func TestAnotherDeskHearsOfEveryChange(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Feed.Look, h.Feed.Beat = 20*time.Millisecond, 50*time.Millisecond
		ana, stop := listen(t, h, "ana", "")
		dou, _ := listen(t, h, "dou", "")
		next(t, ana, "at")
		next(t, dou, "at")
		id := say(t, h, 1)
		first := next(t, ana, "ticket")
		require.JSONEq(t, `{"ticket_id":"`+id+`","kind":"changed"}`, first.data)
		next(t, dou, "at") // the number alone: another branch's ticket is not named
		stop()

		// What happens while the line is down comes with the next one, by its
		// number: nothing is missed and nothing comes twice.
		h.As("ana").Post("/api/tickets/"+id+"/say", obj{"text": "one", "inside": true}).OK()
		h.As("ana").Post("/api/tickets/"+id+"/say", obj{"text": "two", "inside": true}).OK()
		again, _ := listen(t, h, "ana", first.id)
		seen := []string{}
		for len(seen) < 3 { // the message to the farm, and two notes
			seen = append(seen, next(t, again, "ticket").id)
		}
		from, err := strconv.Atoi(first.id)
		require.NoError(t, err)
		for i, s := range seen {
			require.Equal(t, strconv.Itoa(from+1+i), s)
		}

		far, _ := listen(t, h, "ana", "99999")
		next(t, far, "reset")
		require.NoError(t, h.Store.PurgeNews(t.Context(), time.Now().Add(time.Hour)))
		old, _ := listen(t, h, "ana", first.id)
		next(t, old, "reset")
		h.As("ana").Get("/api/news", func(head http.Header) { head.Set("Last-Event-ID", "x") }).Is(http.StatusUnprocessableEntity, "last-event")
		h.As("care").Get("/api/news").Is(http.StatusForbidden, "forbidden")
		select {
		case e := <-dou:
			require.NotEqual(t, "ticket", e.event)
		default:
		}
	})
}

func TestAStreamEndsWithItsSession(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		h.Feed.Look, h.Feed.Beat = 10*time.Millisecond, 20*time.Millisecond
		ana, _ := listen(t, h, "ana", "")
		next(t, ana, "at")
		h.As("adm").Delete("/api/people/ana/sessions").OK()
		ends(t, ana)
		mo, _ := listen(t, h, "mo", "")
		next(t, mo, "at")
		h.Feed.Close()
		ends(t, mo)
	})
}

func ends(t *testing.T, events <-chan sse) {
	t.Helper()
	for {
		select {
		case _, open := <-events:
			if !open {
				return
			}
		case <-time.After(10 * time.Second):
			require.Fail(t, "the stream goes on")
		}
	}
}

// Two instances on one database, many writers: a follower of one hears of
// every change made through either, in order, without a gap and none twice.
// On PostgreSQL, which instances share; a folder of SQLite has one server.
func TestTwoInstancesAndManyWriters(t *testing.T) {
	db := storetest.Database(t)
	one, err := store.Open(t.Context(), store.Config{DB: db})
	require.NoError(t, err)
	defer one.Close()
	first := housetest.OpenSettled(t, db)
	second := housetest.Open(t, db)
	var ids []string
	for range 4 {
		ids = append(ids, say(t, first, 0))
	}
	last, err := one.NewsLast(t.Context())
	require.NoError(t, err)
	const each = 25
	var group sync.WaitGroup
	for i, id := range ids {
		house := []*housetest.House{first, second}[i%2]
		group.Go(func() {
			for n := range each {
				who, err := house.Store.Person(context.Background(), app.Everything, "ana")
				if err == nil {
					_, err = house.Tickets.Say(context.Background(), app.Actor{PersonID: "ana", Grants: who.Grants}, id, "note "+strconv.Itoa(n), true, false)
				}
				if err != nil {
					panic(err)
				}
			}
		})
	}
	done := make(chan struct{})
	go func() { group.Wait(); close(done) }()
	heard, after := map[string]int{}, last
	for deadline := time.Now().Add(time.Minute); time.Now().Before(deadline) && after < last+each*4; {
		list, upTo, gap, err := one.News(t.Context(), app.Everything, after)
		require.NoError(t, err)
		require.False(t, gap)
		for i, n := range list {
			require.Equal(t, after+int64(i)+1, n.Seq, "no gap, in order")
			heard[n.TicketID]++
		}
		require.Len(t, list, int(upTo-after), "whoever knows a number knows all before it")
		after = upTo
	}
	<-done
	for _, id := range ids {
		require.Equal(t, each, heard[id])
	}
}

func TestWhoHasATicketOpen(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		id := say(t, h, 0)
		here := func(who string, leaving bool) []app.Present {
			return housetest.Read[struct{ People []app.Present }](h.As(who).Post("/api/tickets/"+id+"/here", obj{"leaving": leaving}).OK()).People
		}
		last := func() int64 {
			n, err := h.Store.NewsLast(t.Context())
			require.NoError(t, err)
			return n
		}
		require.Empty(t, here("ana", false))
		was := last()
		require.Equal(t, []app.Present{{PersonID: "ana", Name: "Ana Étoile"}}, here("mo", false))
		require.Equal(t, was+1, last(), "others hear that somebody came")
		here("mo", false)
		require.Equal(t, was+1, last(), "and nothing of a sign of life")
		require.Len(t, here("ana", false), 1)
		require.Empty(t, here("mo", true)[1:])
		require.Empty(t, here("ana", false))
		h.Pass(time.Minute)
		require.Empty(t, here("mo", false), "who gave no sign for a while is gone")
		h.As("dou").Post("/api/tickets/"+id+"/here", obj{}).Is(http.StatusNotFound, "ticket-not-found")
	})
}
