package api_test

import (
	"maps"
	"net/http"
	"testing"
	"time"

	"tendfold/checklists"
	"tendfold/domain/triage"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

func TestTriageCardsAreGivenWithWordsAndGraph(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		answer := h.As("ana").Get("/api/triage/catfish").OK()
		cards := housetest.Read[struct{ Cards []checklists.TriageCard }](answer).Cards
		require.NotEmpty(t, cards)
		for _, c := range cards {
			require.Positive(t, c.Version, c.Sign)
			require.True(t, c.Questions[0].Danger || c.Danger, c.Sign)
			require.NotEmpty(t, c.Questions[0].Say.FR, c.Sign)
			require.NotEmpty(t, c.Endings[0].Advice.EN, c.Sign)
			require.NotEmpty(t, c.Endings[0].Grade, c.Sign)
		}
		again := h.As("ana").Get("/api/triage/catfish", header("If-None-Match", answer.Header.Get("ETag")))
		require.Equal(t, http.StatusNotModified, again.Status)
		h.As("ana").Get("/api/triage/duck").Is(http.StatusNotFound, "pack-not-found")
	})
}

// given is one answer of a card.
func given(question, answer string, number float64) body {
	return body{"question": question, "answer": answer, "number": number}
}

func deadAfterStocking() body {
	return body{
		"enterprise": "snail", "sign": "many-sudden-deaths", "version": 1, "language": "fr",
		"answers": []body{given("poisoned", "no", 0), given("lungworm", "no", 0), given("dead", "", 40), given("stocked", "no", 0), given("sprayed", "no", 0), given("looks", "slimy", 0)},
	}
}

func TestAdviceIsRecordedAsGiven(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		note := func(card body, more body) *housetest.Answer {
			call := body{"farm_id": "f1", "channel": "phone", "said": "they die", "card": card}
			maps.Copy(call, more)
			return h.As("ana").Post("/api/calls", call)
		}
		line := housetest.Read[app.CallLine](note(deadAfterStocking(), nil).OK())
		card := line.Card
		require.Equal(t, "infection", card.Ending)
		require.Equal(t, []triage.Suspect{{Cause: "gut", Word: triage.Likely}, {Cause: "heat", Word: triage.LessLikely}}, card.Suspects)
		require.Contains(t, card.Sentences[0], "Mettez des gants", "what to do now comes first, in the language spoken")
		require.Len(t, card.Sentences, 7, "now, advice and five cautions")
		require.Equal(t, h.Now().Add(24*time.Hour), card.TellBy, "suspicion of a disease starts a clock of 24 hours")

		clocks := func(who string) []app.VetClock {
			return housetest.Read[struct{ Items []app.VetClock }](h.As(who).Get("/api/vet-clocks").OK()).Items
		}
		require.Len(t, clocks("ana"), 1)
		require.Equal(t, []any{line.ID, "Hillside", "many-sudden-deaths"}, []any{clocks("ana")[0].CallID, clocks("ana")[0].Farm, clocks("ana")[0].Sign})
		require.Empty(t, clocks("dou"), "another branch's")
		told := housetest.Read[app.CallLine](h.As("ana").Post("/api/calls/"+line.ID+"/told", body{"how": "district post, by phone"}).OK())
		require.Equal(t, []any{"district post, by phone", "ana", h.Now()}, []any{told.Card.ToldHow, told.Card.ToldBy, told.Card.ToldAt})
		require.Empty(t, clocks("ana"))
		h.As("ana").Post("/api/calls/"+line.ID+"/told", body{"how": "again"}).Is(http.StatusConflict, "told-already")

		// The advisor may overrule, with a reason.
		low := body{"ticket": body{"title": "x", "impact": "low", "time_to_loss": "longer"}}
		note(deadAfterStocking(), low).Is(http.StatusUnprocessableEntity, "triage-why")
		why := deadAfterStocking()
		why["why"] = "I saw the house an hour ago"
		require.Equal(t, "I saw the house an hour ago", housetest.Read[app.CallLine](note(why, low).OK()).Card.Why)

		// What does not follow the card is refused, and so is another version.
		skip := deadAfterStocking()
		skip["answers"] = skip["answers"].([]body)[1:]
		note(skip, nil).Is(http.StatusUnprocessableEntity, "triage-answer")
		old := deadAfterStocking()
		old["version"] = 99
		note(old, nil).Is(http.StatusConflict, "triage-card-changed")

		// A call cut off keeps what was asked so far.
		part := deadAfterStocking()
		part["answers"] = part["answers"].([]body)[:3]
		require.Empty(t, housetest.Read[app.CallLine](note(part, nil).OK()).Card.Ending)
	})
}

func TestAVeterinarianSignsAVersionOfACard(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		list := func() []app.CardStatus {
			return housetest.Read[struct{ Items []app.CardStatus }](h.As("ana").Get("/api/card-reviews").OK()).Items
		}
		find := func(sign string) app.CardStatus {
			for _, c := range list() {
				if c.Enterprise == "catfish" && c.Sign == sign {
					return c
				}
			}
			t.Fatal("no card ", sign)
			return app.CardStatus{}
		}
		require.NotEmpty(t, find("no-water").Estimates, "from memory: a veterinarian has to look")
		signed := body{"enterprise": "catfish", "sign": "no-water", "version": 1, "reviewer": "Dr Invented", "qualification": "DVM", "signed_on": h.Today().String(), "agrees": true}
		bent := func(key string, value any) body {
			out := body{key: value}
			for k, v := range signed {
				if k != key {
					out[k] = v
				}
			}
			return out
		}
		h.As("ana").Post("/api/card-reviews", signed).Is(http.StatusForbidden, "forbidden")
		h.As("mo").Post("/api/card-reviews", bent("version", 2)).Is(http.StatusConflict, "triage-card-changed")
		h.As("mo").Post("/api/card-reviews", bent("signed_on", "2199-01-01")).Is(http.StatusUnprocessableEntity, "card-review-refused")
		h.As("mo").Post("/api/card-reviews", bent("agrees", false)).Is(http.StatusUnprocessableEntity, "card-review-refused")
		before := h.As("mo").Get("/api/card-reviews.csv").OK()
		require.Contains(t, string(before.Body), "catfish,no-water,1,ending,save-air,")
		h.As("mo").Post("/api/card-reviews", signed).OK()
		require.Equal(t, "Dr Invented", find("no-water").Reviews[0].Reviewer)
		require.Equal(t, "no-water", list()[len(list())-1].Sign, "what nobody signed comes first")
		require.NotContains(t, string(h.As("mo").Get("/api/card-reviews.csv").OK().Body), "catfish,no-water,")
	})
}
