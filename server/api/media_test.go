package api_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"tendfold/domain/farm"
	"tendfold/domain/ticket"
	"tendfold/server/api"
	"tendfold/server/app"
	"tendfold/server/housetest"
	"tendfold/server/intake"
	"tendfold/server/media"

	"github.com/stretchr/testify/require"
)

// snap is a small photo; each n gives another one.
func snap(t *testing.T, n int) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 320, 200))
	for i := range m.Pix {
		m.Pix[i] = color.Gray{Y: uint8(i * (n + 3))}.Y
	}
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, m, nil))
	return out.Bytes()
}

func mediaID(n int) string { return fmt.Sprintf("019cdf44-9c6a-7b0e-8f0a-%012d", n) }

// announce is what a phone says before it sends.
func announce(id, entry string, raw []byte, more ...body) body {
	sum := sha256.Sum256(raw)
	out := body{"id": id, "farm_id": "f1", "entry_id": entry, "kind": "photo", "size": len(raw), "sha256": hex.EncodeToString(sum[:])}
	for _, m := range more {
		maps.Copy(out, m)
	}
	return out
}

func uploadOf(a *housetest.Answer) app.Upload { return housetest.Read[app.Upload](a.OK()) }

func part(c *housetest.Client, id string, offset int, raw []byte) *housetest.Answer {
	return c.Put(fmt.Sprintf("/api/media/%s/parts?offset=%d", id, offset), raw)
}

// bring sends a photo whole.
func bring(h *housetest.House, who, id, entry string, raw []byte, more ...body) app.Upload {
	h.T.Helper()
	c := h.As(who)
	c.Post("/api/media", announce(id, entry, raw, more...)).OK()
	for at := 0; at < len(raw); at += 4096 {
		part(c, id, at, raw[at:min(len(raw), at+4096)]).OK()
	}
	return uploadOf(c.Post("/api/media/"+id+"/finish", nil))
}

func markOf(h *housetest.House, item string) app.Mark {
	h.T.Helper()
	marks, err := h.Store.MarksOf(h.T.Context(), []string{"y1"})
	require.NoError(h.T, err)
	for _, m := range marks {
		if m.Item == item {
			return m
		}
	}
	return app.Mark{}
}

func lookedAt(h *housetest.House, entry string, ids ...string) *housetest.Answer {
	h.T.Helper()
	return say(h, "care", "item", body{"item": "soil-moist", "answer": "yes", "media": ids}, body{"id": entry})
}

func TestAPhotoMakesAnItemBetterKnownInWhateverOrderTheyCome(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		raw := snap(t, 1)
		lookedAt(h, "e-first", mediaID(1)).OK()
		require.Equal(t, farm.WordGiven, markOf(h, "soil-moist").Grade, "the photo is still to come")
		require.Equal(t, app.MediaKept, bring(h, "care", mediaID(1), "e-first", raw).State)
		require.Equal(t, farm.Photo, markOf(h, "soil-moist").Grade)

		h.Pass(24 * 3600e9)
		bring(h, "care", mediaID(2), "e-second", snap(t, 2))
		require.Equal(t, "e-first", markOf(h, "soil-moist").EventID)
		lookedAt(h, "e-second", mediaID(2)).OK()
		require.Equal(t, farm.Photo, markOf(h, "soil-moist").Grade)
		require.Equal(t, "e-second", markOf(h, "soil-moist").EventID)

		h.Pass(24 * 3600e9)
		lookedAt(h, "e-third", mediaID(3)).OK()
		h.Pass(24 * 3600e9)
		lookedAt(h, "e-fourth").OK()
		bring(h, "care", mediaID(3), "e-third", raw)
		require.Equal(t, farm.WordGiven, markOf(h, "soil-moist").Grade, "the photo of an entry that another one replaced says nothing of it")

		page := housetest.Read[app.Page[app.Event]](h.As("ana").Get("/api/farms/f1/events").OK())
		require.Len(t, page.Items, 4)
		require.Empty(t, page.Items[0].Media)
		require.Equal(t, mediaID(3), page.Items[1].Media[0].ID)
		require.Equal(t, "image/jpeg", page.Items[1].Media[0].Type)
	})
}

func TestAPhotoProvesNothingForAnEntryThatDoesNotNameIt(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		bring(h, "care", mediaID(1), "e-1", snap(t, 1))
		lookedAt(h, "e-1").OK()
		require.Equal(t, farm.WordGiven, markOf(h, "soil-moist").Grade)
		bring(h, "ana", mediaID(2), "e-2", snap(t, 2))
		lookedAt(h, "e-2", mediaID(2)).OK()
		require.Equal(t, farm.WordGiven, markOf(h, "soil-moist").Grade, "somebody else's photo")
		say(h, "care", "item", body{"item": "soil-moist", "answer": "yes", "grade": "photo"}).Is(422, "entry-refused")
		say(h, "care", "item", body{"item": "soil-moist", "answer": "yes", "media": []string{"x"}}).Is(422, "entry-refused")
		say(h, "fie", "item", body{"item": "soil-moist", "answer": "yes", "media": []string{mediaID(4)}}, body{"id": "e-4"}).OK()
		require.Equal(t, farm.StaffSaw, markOf(h, "soil-moist").Grade)
		bring(h, "fie", mediaID(4), "e-4", snap(t, 4))
		require.Equal(t, farm.StaffSaw, markOf(h, "soil-moist").Grade, "who saw it needs no photo")
	})
}

func TestALostAnswerCostsNothing(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		raw, c, id := snap(t, 1), h.As("care"), mediaID(1)
		for range 2 {
			up := uploadOf(c.Post("/api/media", announce(id, "e-1", raw)))
			require.Zero(t, up.Received)
			require.Equal(t, media.MostChunk, up.MostPart)
		}
		part(c, id, 0, raw[:1000]).OK()
		lost := part(c, id, 0, raw[:1000]).Is(409, media.OffsetCode)
		require.Equal(t, "1000", housetest.Read[api.Problem](lost).Fields[0].Text, "where to go on")
		require.EqualValues(t, 1000, uploadOf(c.Post("/api/media", announce(id, "e-1", raw))).Received)
		c.Post("/api/media/"+id+"/finish", nil).Is(409, media.OffsetCode)
		part(c, id, 1000, raw[1000:]).OK()
		for range 2 {
			require.Equal(t, app.MediaKept, uploadOf(c.Post("/api/media/"+id+"/finish", nil)).State)
		}
		require.EqualValues(t, len(raw), uploadOf(part(c, id, 0, raw[:1000])).Received, "late pieces change nothing")
		require.Equal(t, app.MediaKept, uploadOf(c.Post("/api/media", announce(id, "e-1", raw))).State)
		c.Post("/api/media", announce(id, "e-2", raw)).Is(409, "media-id-taken")
	})
}

func TestABadPhotoIsRefusedOnceAndForAll(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		c := h.As("care")
		up := bring(h, "care", mediaID(1), "e-1", []byte("<html>not a photo</html>"))
		require.Equal(t, app.MediaRefused, up.State)
		require.Equal(t, "media-type", up.Why)
		up = bring(h, "care", mediaID(1), "e-1", []byte("<html>not a photo</html>"))
		require.Equal(t, "media-type", up.Why, "the same answer again")
		c.Get("/api/media/"+mediaID(1)).Is(404, "media-not-found")

		raw := snap(t, 1)
		wrong := bytes.Clone(raw)
		wrong[200] ^= 1
		c.Post("/api/media", announce(mediaID(2), "e-1", raw)).OK()
		part(c, mediaID(2), 0, wrong).OK()
		c.Post("/api/media/"+mediaID(2)+"/finish", nil).Is(409, "media-hash")
		require.Zero(t, uploadOf(c.Post("/api/media", announce(mediaID(2), "e-1", raw))).Received, "from the start")
		part(c, mediaID(2), 0, raw).OK()
		require.Equal(t, app.MediaKept, uploadOf(c.Post("/api/media/"+mediaID(2)+"/finish", nil)).State)
	})
}

func TestMediaHaveBounds(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		c, raw := h.As("care"), snap(t, 1)
		c.Post("/api/media", announce(mediaID(1), "e-1", raw, body{"size": 7 << 20})).Is(413, "media-too-large")
		c.Post("/api/media", announce(mediaID(1), "e-1", raw, body{"kind": "voice", "size": 2 << 20})).Is(413, "media-too-large")
		c.Post("/api/media", announce(mediaID(1), "e-1", raw, body{"id": "../../x"})).Is(422, "invalid")
		c.Post("/api/media", announce(mediaID(1), "e-1", raw, body{"kind": "film"})).Is(422, "invalid")
		c.Post("/api/media", announce(mediaID(1), "e-1", raw)).OK()
		require.Equal(t, http.StatusRequestEntityTooLarge, part(c, mediaID(1), 0, make([]byte, media.MostChunk+10)).Status)
		part(c, mediaID(1), 0, append(bytes.Clone(raw), 1)).Is(422, "media-size")
		for n := 2; n <= 8; n++ {
			c.Post("/api/media", announce(mediaID(n), "e-1", raw)).OK()
		}
		c.Post("/api/media", announce(mediaID(9), "e-1", raw)).Is(409, "media-many")
		for n := 100; n < 392; n++ {
			require.NoError(t, h.Store.AddMedia(t.Context(), app.Medium{
				ID: mediaID(n), FarmID: "f1", EntryID: "e-2", Kind: media.Photo, PersonID: "care", Size: 1, AnnouncedAt: h.Now(), State: app.MediaComing,
			}))
		}
		c.Post("/api/media", announce(mediaID(10), "e-3", raw)).Is(429, "media-day")
		h.Pass(25 * 3600e9)
		c.Post("/api/media", announce(mediaID(10), "e-3", raw)).OK()
	})
}

func TestNobodySeesThePhotosOfAnotherFarm(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		raw := snap(t, 1)
		lookedAt(h, "e-1", mediaID(1)).OK()
		bring(h, "care", mediaID(1), "e-1", raw)
		path := "/api/media/" + mediaID(1)
		for _, who := range []string{"ana", "fie", "mo", "adm", "care"} {
			h.As(who).Get(path).OK()
			h.As(who).Get(path + "/thumbnail").OK()
		}
		for _, who := range []string{"dou", "dfo", "far"} {
			h.As(who).Get(path).Is(404, "media-not-found")
			h.As(who).Get(path+"/thumbnail").Is(404, "media-not-found")
			part(h.As(who), mediaID(1), 0, raw).Is(404, "media-not-found")
			h.As(who).Post(path+"/finish", nil).Is(404, "media-not-found")
			h.As(who).Post("/api/media", announce(mediaID(2), "e-1", raw)).Is(404, "farm-not-found")
		}
		h.As("own").Get(path).Is(403, "forbidden")
		part(h.As("ana"), mediaID(1), 0, raw).Is(404, "media-not-found")
		h.As("far").Post("/api/media", announce(mediaID(2), "e-1", raw, body{"farm_id": "f3"})).Is(404, "entry-not-found")
	})
}

func TestAPhotoIsAnsweredSoThatItCannotBeRunOrShared(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		bring(h, "care", mediaID(1), "e-1", snap(t, 1), body{"taken": body{"lat": 4.15, "lng": 9.24}})
		a := h.As("ana").Get("/api/media/" + mediaID(1)).OK()
		for name, want := range map[string]string{
			"Content-Type": "image/jpeg", "Cache-Control": "private, no-cache", "X-Content-Type-Options": "nosniff",
			"Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'", "Content-Disposition": "inline; filename=photo-000000000001.jpg",
		} {
			require.Equal(t, want, a.Header.Get(name), name)
		}
		require.True(t, bytes.HasPrefix(a.Body, []byte("\xff\xd8\xff")))
		same := func(hd http.Header) { hd.Set("If-None-Match", a.ETag()) }
		require.Equal(t, http.StatusNotModified, h.As("ana").Get("/api/media/"+mediaID(1), same).Status)
		m, err := h.Store.Media(t.Context(), app.Everything, mediaID(1))
		require.NoError(t, err)
		require.Equal(t, farm.Position{Lat: 4.15, Lng: 9.24, Known: true}, m.Taken)
	})
}

func TestAnyEntryMayNamePhotosAndVoiceNotes(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		one := []string{mediaID(1)}
		for kind, data := range map[string]body{
			"note": {}, "day": {"all_well": true}, "could-not": {"reason": "rain"}, "trouble": {}, "call-me": {}, "cover": {"percent": 10},
		} {
			data["media"] = one
			say(h, "care", kind, data).OK()
		}
		say(h, "care", "note", body{"media": []string{}}).Is(422, "entry-refused")
		say(h, "care", "note", body{"note": "x", "media": "all of them"}).Is(422, "entry-refused")
		say(h, "care", "note", body{"note": "x", "media": []string{"../x"}}).Is(422, "entry-refused")
		say(h, "care", "note", body{"note": "x", "media": slices.Repeat(one, 9)}).Is(422, "entry-refused")
		say(h, "care", "note", body{"note": "x", "media": one, "other": 1}).Is(422, "entry-refused")
	})
}

func TestTheDeskSeesWhatAReportShows(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "care", "trouble", body{"media": []string{mediaID(1), mediaID(2)}}, body{"id": "e-trouble"}).OK()
		bring(h, "care", mediaID(1), "e-trouble", snap(t, 1))
		queue := housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets?farm=f1&origin=caretaker").OK())
		require.Len(t, queue.Items, 1)
		require.Equal(t, "A photo or a voice note: see or hear it", queue.Items[0].Title)
		th := housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + queue.Items[0].ID).OK())
		require.Len(t, th.Media, 1)
		require.Equal(t, []string{mediaID(1), mediaID(2)}, th.MediaNamed, "one is still to come")
		th = housetest.Read[app.Thread](h.As("care").Get("/api/tickets/" + queue.Items[0].ID).OK())
		require.Empty(t, th.Media, "who sent it has it")
	})
}

func TestAnExportHoldsThePhotosThemselves(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		bring(h, "care", mediaID(1), "e-first", snap(t, 1))
		bring(h, "care", mediaID(2), "e-first", snap(t, 2))
		lookedAt(h, "e-first", mediaID(1), mediaID(2)).OK()
		dir := t.TempDir()
		files, err := h.Export(t.Context(), dir, nil)
		require.NoError(t, err)
		require.Equal(t, intake.File{Name: "media", Rows: 2}, files[len(files)-1])
		sheet, err := os.ReadFile(filepath.Join(dir, "media.csv"))
		require.NoError(t, err)
		for _, id := range []string{mediaID(1), mediaID(2)} {
			photo, err := os.ReadFile(filepath.Join(dir, "media", id+".jpg"))
			require.NoError(t, err)
			shown := h.As("care").Get("/api/media/" + id).OK()
			require.Equal(t, shown.Body, photo, "the export has what the screen shows")
			require.Contains(t, string(sheet), id)
		}
		_, err = h.Export(t.Context(), dir, nil)
		require.NoError(t, err, "into the same folder again")
	})
}

func TestWhatIsShownLaterComesOntoTheTicketOfItsReport(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		say(h, "care", "trouble", body{"sign": "not-eating"}, body{"id": "e-sign"}).OK()
		h.Pass(60e9)
		more := say(h, "care", "trouble", body{"sign": "not-eating", "about": "e-sign", "media": []string{mediaID(1)}}, body{"id": "e-more"})
		more.OK()
		bring(h, "care", mediaID(1), "e-more", snap(t, 1))

		tickets := housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets").OK()).Items
		require.Len(t, tickets, 1, "one ticket for one trouble")
		thread := housetest.Read[app.Thread](h.As("ana").Get("/api/tickets/" + tickets[0].ID).OK())
		require.Equal(t, []string{mediaID(1)}, thread.MediaNamed)
		require.Len(t, thread.Media, 1)
		last := thread.Events[len(thread.Events)-1]
		require.Equal(t, ticket.Messaged, last.Kind)
		require.Equal(t, "A photo or a voice note: see or hear it", last.Text)

		say(h, "care", "trouble", body{"sign": "not-eating", "about": "e-%", "note": "again"}).OK()
		tickets = housetest.Read[app.Page[app.TicketLine]](h.As("ana").Get("/api/tickets").OK()).Items
		require.Len(t, tickets, 2, "what is about no report of this farm is a report of its own, wildcards or not")
	})
}
