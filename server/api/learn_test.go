package api_test

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"tendfold/domain/training"
	"tendfold/server/app"
	"tendfold/server/housetest"

	"github.com/stretchr/testify/require"
)

const learnt = "moving-safely" // a safety module of the snail pack

func lessonsOf(h *housetest.House, who string) app.LessonModule {
	h.T.Helper()
	page := housetest.Read[app.LessonsPage](h.As(who).Get("/api/lessons/snail?lang=fr").OK())
	i := slices.IndexFunc(page.Modules, func(m app.LessonModule) bool { return m.Key == learnt })
	require.GreaterOrEqual(h.T, i, 0)
	return page.Modules[i]
}

// bankOf is what a phone makes of the lessons.
func bankOf(m app.LessonModule) training.Bank {
	b := training.Bank{Draw: m.Draw}
	for _, q := range m.Questions {
		one := training.Question{Key: q.Key, Kind: q.Kind, Safety: q.Safety, Right: q.Right, Answer: q.Answer, Tolerance: q.Tolerance}
		for _, o := range q.Options {
			one.Options = append(one.Options, o.Key)
		}
		b.Questions = append(b.Questions, one)
	}
	return b
}

func moduleOf(h *housetest.House, who string) app.TodayModule {
	h.T.Helper()
	f := todayOf(h, who, "").Farms[0]
	all := slices.Concat(f.Modules, f.MoreModules)
	i := slices.IndexFunc(all, func(m app.TodayModule) bool { return m.Key == learnt })
	require.GreaterOrEqual(h.T, i, 0)
	return all[i]
}

// round is what a person answers: everything right, but for so many wrong
// ones that are not about safety.
func round(h *housetest.House, who string, wrong int) body {
	h.T.Helper()
	m := lessonsOf(h, who)
	bank, seed := bankOf(m), moduleOf(h, "care").Seed
	answers := map[string]training.Answer{}
	for _, asked := range bank.Ask(seed) {
		q := bank.Questions[slices.IndexFunc(bank.Questions, func(q training.Question) bool { return q.Key == asked.Question })]
		if !q.Safety && wrong > 0 {
			wrong--
			continue
		}
		switch q.Kind {
		case training.Sum:
			answers[q.Key] = training.Answer{Number: &q.Answer}
		case training.Order:
			answers[q.Key] = training.Answer{Order: q.Options}
		case training.One, training.Picture:
			answers[q.Key] = training.Answer{Choice: q.Right}
		}
	}
	require.Zero(h.T, wrong)
	return body{"enterprise": "snail", "module": learnt, "version": m.Version, "seed": seed, "answers": answers}
}

func seen(missed ...string) body {
	return body{"enterprise": "snail", "module": learnt, "person_id": "care", "how": "visit", "missed": missed}
}

func lacks(h *housetest.House) bool {
	h.T.Helper()
	for _, g := range farmOf(h, "ana", "f1").Units[0].Cycle.Missing {
		if slices.Contains(g.Missing, app.MissingRow{Code: "module-missing", Thing: learnt}) {
			return true
		}
	}
	return false
}

func passesOf(h *housetest.House) []app.Pass {
	h.T.Helper()
	return slices.DeleteFunc(farmOf(h, "ana", "f1").People[0].Passes, func(p app.Pass) bool { return p.Module != learnt })
}

func TestAModuleIsPassedByQuestionsAndAPracticalCheck(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		require.True(t, lacks(h), "the go-ahead for stocking waits")
		require.Equal(t, "kept", states(receipts(h, "care", entryOf(h, "answers", round(h, "care", 1)))))
		m := moduleOf(h, "care")
		require.Equal(t, h.Today(), m.AnsweredOn)
		require.Empty(t, passesOf(h), "questions alone are no pass")
		require.True(t, lacks(h))

		say(h, "fie", "module", seen()).OK()
		require.False(t, lacks(h), "now the go-ahead has it")
		passes := passesOf(h)
		require.Len(t, passes, 1)
		require.Equal(t, []any{h.Today(), training.ValidUntil(h.Today(), 6), "visit", "fie"}, []any{passes[0].On, passes[0].Until, passes[0].How, passes[0].ByID})
		require.Equal(t, passes[0].Until, moduleOf(h, "care").Until)
		require.NotContains(t, keysOf(todayOf(h, "care", "").Farms[0].Modules), learnt)
	})
}

func keysOf(ms []app.TodayModule) []string {
	out := make([]string, len(ms))
	for i, m := range ms {
		out[i] = m.Key
	}
	return out
}

func TestTheOrderOfThePartsDoesNotMatter(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		answers := entryOf(h, "answers", round(h, "care", 0))
		answers["on"] = h.Today().Add(-3).String()
		say(h, "fie", "module", seen()).OK()
		require.Empty(t, passesOf(h))
		require.Equal(t, h.Today(), moduleOf(h, "care").CheckedOn)
		require.Equal(t, "kept", states(receipts(h, "care", answers)), "answered three days ago, brought today")
		require.Equal(t, h.Today(), passesOf(h)[0].On, "from the later of the two days")
		require.Equal(t, "kept-before", states(receipts(h, "care", answers)))
		require.Len(t, passesOf(h), 1)
	})
}

func TestTheServerMarksForItself(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		failed := round(h, "care", 2)
		require.Equal(t, "kept", states(receipts(h, "care", entryOf(h, "answers", failed))))
		m := moduleOf(h, "care")
		require.Equal(t, h.Today(), m.FailedOn)
		require.True(t, m.Waits, "stocking waits")
		require.Zero(t, m.RetakeOn, "so at once")
		require.NotEqual(t, failed["seed"], m.Seed, "other questions, or in another order")
		require.Equal(t, training.NextSeed(failed["seed"].(uint32)), m.Seed)

		claimed := round(h, "care", 2)
		claimed["told"] = true
		chosen := round(h, "care", 0)
		chosen["seed"] = uint32(12345)
		old := round(h, "care", 0)
		old["version"] = "000000000000"
		foreign := round(h, "care", 0)
		foreign["person_id"] = "far"
		require.Equal(t, "kept", states(receipts(h, "care", entryOf(h, "answers", claimed))))
		require.Equal(t, h.Today(), moduleOf(h, "care").FailedOn, "what the phone told is not believed")
		rs := receipts(h, "care", entryOf(h, "answers", chosen), entryOf(h, "answers", old), entryOf(h, "answers", foreign))
		require.Equal(t, "refused refused refused", states(rs))
		require.Equal(t, "not-given", rs[0].Problem.Fields[0].Code)
		require.Equal(t, "questions-changed", rs[1].Problem.Code)
		require.Equal(t, "forbidden", rs[2].Problem.Code)
		require.Zero(t, moduleOf(h, "care").AnsweredOn)
	})
}

func TestStaffAskAloud(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		aloud := round(h, "ana", 0)
		say(h, "ana", "answers", aloud).Is(422, "entry-refused") // who answered?
		aloud["person_id"] = "far"
		say(h, "ana", "answers", aloud).Is(404, "caretaker-not-found")
		aloud["person_id"] = "care"
		say(h, "ana", "answers", aloud).OK()
		require.Equal(t, h.Today(), moduleOf(h, "care").AnsweredOn)
	})
}

func TestAFailedCheckBringsARefresherSooner(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		before := h.Today().Add(-9).String()
		answers := entryOf(h, "answers", round(h, "care", 0))
		answers["on"] = before
		receipts(h, "care", answers)
		say(h, "fie", "module", seen(), body{"on": before}).OK()
		require.Equal(t, training.ValidUntil(h.Today().Add(-9), 6), passesOf(h)[0].Until)
		task := lessonsOf(h, "fie").Tasks[0].Key
		say(h, "fie", "module", seen("juggling")).Is(422, "entry-refused")
		say(h, "fie", "module", body{"enterprise": "snail", "module": learnt, "person_id": "care", "how": "phone"}).Is(422, "entry-refused")
		say(h, "fie", "module", seen(task)).OK()
		require.Equal(t, h.Today().Add(training.RefreshWithin), passesOf(h)[0].Until)
		require.Equal(t, h.Today(), moduleOf(h, "care").RedoOn)
	})
}

func TestLessonsAreFetchedOnce(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		for _, path := range []string{"/api/lessons/snail?lang=en", "/api/lessons/snail/drawings", "/api/lessons/snail/voices/" + learnt} {
			first := h.As("care").Get(path).OK()
			again := h.As("care").Get(path, header("If-None-Match", first.ETag()))
			require.Equal(t, 304, again.Status, path)
			require.Empty(t, again.Body)
			packed := h.As("care").Get(path, header("Accept-Encoding", "br, gzip;q=0.5"))
			require.Equal(t, "gzip", packed.Header.Get("Content-Encoding"), path)
			plain, err := gzip.NewReader(strings.NewReader(string(packed.Body)))
			require.NoError(t, err)
			text, err := io.ReadAll(plain)
			require.NoError(t, err)
			require.JSONEq(t, string(first.Body), string(text))
			require.Empty(t, h.As("care").Get(path, header("Accept-Encoding", "gzip;q=0")).Header.Get("Content-Encoding"))
		}
		h.As("care").Get("/api/lessons/goat").Is(404, "pack-not-found")
	})
}

// What a phone fetches must be small: all the words of one enterprise in one
// language, and its drawings.
func TestLessonsAreSmall(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		size := func(path string) int { return len(h.As("care").Get(path, header("Accept-Encoding", "gzip")).Body) }
		for _, enterprise := range h.Packs.Enterprises() {
			words, drawings := size("/api/lessons/"+enterprise+"?lang=fr"), size("/api/lessons/"+enterprise+"/drawings")
			t.Logf("%s: %d bytes of words, %d of drawings", enterprise, words, drawings)
			require.LessOrEqual(t, words, 45_000, enterprise)
			require.LessOrEqual(t, drawings, 120_000, enterprise)
		}
	})
}

func FuzzAnswersEntry(f *testing.F) {
	f.Add([]byte(`{"enterprise":"snail","module":"moving-safely","version":"x","seed":1,"answers":{"a":{"choice":"b"}}}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		var in app.AnswersEntry
		if json.Unmarshal(raw, &in) != nil {
			return
		}
		b := training.Bank{Draw: 2, Questions: []training.Question{{Key: "a", Kind: training.One, Options: []string{"b", "c"}, Right: "b"}, {Key: "s", Kind: training.Sum, Answer: 1}}}
		m := b.Mark(in.Seed, in.Answers)
		require.Equal(t, m.Asked, m.Right+len(m.Wrong))
	})
}

func TestStaffSeeWhoLearnsWhatAndWhichQuestionsFail(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		receipts(h, "care", entryOf(h, "answers", round(h, "care", 2)), entryOf(h, "answers", round(h, "care", 0)))
		page := housetest.Read[app.TrainingPage](h.As("ana").Get("/api/training").OK())
		require.Len(t, page.People, 1, "Buea only")
		require.Equal(t, "care", page.People[0].PersonID)
		require.Equal(t, 1, page.Farms[0].People)
		require.Zero(t, page.Farms[0].Complete)
		require.Equal(t, 1, page.Branches[0].Modules[0].Missing)
		require.Empty(t, housetest.Read[app.TrainingPage](h.As("dou").Get("/api/training?branch=buea").OK()).People)

		type list[T any] struct {
			Items []T `json:"items"`
		}
		questions := housetest.Read[list[app.QuestionRow]](h.As("mo").Get("/api/training/questions?lang=fr").OK()).Items
		require.NotEmpty(t, questions)
		wrong := 0
		for _, q := range questions {
			wrong += q.Wrong
			require.True(t, q.Low <= q.Share && q.Share <= q.High)
			require.False(t, q.Rewrite, "two answers prove nothing")
			require.NotEmpty(t, q.Ask)
		}
		require.Equal(t, 2, wrong)

		aloud := housetest.Read[list[app.LearnerRow]](h.As("ana").Get("/api/farms/f1/training").OK()).Items
		require.Equal(t, moduleOf(h, "care").Seed, aloud[0].Modules[0].Seed, "the same draw, asked aloud")

		rows := housetest.Read[list[app.RecordRow]](h.As("ana").Get("/api/training/record").OK()).Items
		require.Len(t, rows, 2)
		csv := string(h.As("ana").Get("/api/training/record.csv").OK().Body)
		require.Contains(t, csv, "Carine Ngwa,snail,moving-safely,Moving safely in the house,questions,")
	})
}

func TestACertificateIsCheckedByItsCode(t *testing.T) {
	housetest.Each(t, func(t *testing.T, h *housetest.House) {
		issue := func() *housetest.Answer { return h.As("ana").Post("/api/people/care/certificates", body{}) }
		issue().Is(409, "nothing-to-certify")
		receipts(h, "care", entryOf(h, "answers", round(h, "care", 0)))
		say(h, "fie", "module", seen()).OK()
		code := housetest.Read[app.Certificate](issue().OK()).Code
		require.Len(t, code, 16)
		require.Equal(t, []string{"issue"}, audits(h, "certificate", code))

		check := func(typed string) *housetest.Answer {
			return h.Stranger().Get("/api/certificates/" + typed + "?lang=fr")
		}
		page := housetest.Read[app.CertificatePage](check(strings.ToLower(code[:4]) + "-" + code[4:]).OK())
		require.True(t, page.Valid)
		require.Equal(t, "Carine Ngwa", page.Name)
		require.Equal(t, []app.CertificateLine{{Name: "Se déplacer sans danger dans l'escargotière", PassedOn: h.Today(), Until: training.ValidUntil(h.Today(), 6), Valid: true}}, page.Modules)
		for _, private := range []string{"care", "+999", "f1", "Hillside"} {
			require.NotContains(t, string(check(code).Body), private, "a stranger learns no more")
		}
		check("AAAA-BBBB-CCCC-DDDD").Is(404, "certificate-not-found")

		for _, who := range []string{"ana", "care"} {
			paper := h.As(who).Get("/api/certificates/" + code + "/paper?lang=fr").OK()
			require.Equal(t, "application/pdf", paper.Header.Get("Content-Type"))
			require.True(t, strings.HasPrefix(string(paper.Body), "%PDF-"))
		}
		h.As("far").Get("/api/certificates/"+code+"/paper").Is(404, "certificate-not-found")

		h.Pass(200 * 24 * time.Hour)
		require.False(t, housetest.Read[app.CertificatePage](check(code).OK()).Valid, "half a year later")
	})
}
