package store_test

import (
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

func TestFirm(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		f, err := s.Firm(ctx)
		require.NoError(t, err)
		require.Equal(t, farm.Firm{Language: "en", Zone: "UTC", Currency: "XAF"}, f)
		f.Name = "Palmwalk"
		require.NoError(t, s.SaveFirm(ctx, f))
		require.Equal(t, domain.KindStale, domain.KindOf(s.SaveFirm(ctx, f)), "a second first run")
		f, err = s.Firm(ctx)
		require.NoError(t, err)
		require.Equal(t, 1, f.Version)
		f.SetUp, f.Zone = true, "Africa/Douala"
		require.NoError(t, s.SaveFirm(ctx, f))
		require.Equal(t, domain.KindStale, domain.KindOf(s.SaveFirm(ctx, f)))
		got, err := s.Firm(ctx)
		require.NoError(t, err)
		f.Version = 2
		require.Equal(t, f, got)
	})
}

func TestBranches(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		got, err := w.Branches(ctx)
		require.NoError(t, err)
		require.Equal(t, []farm.Branch{branch("buea", "Buea"), branch("douala", "Douala")}, got)
		err = w.AddBranches(ctx, branch("other", " BUÉA "))
		require.Equal(t, domain.KindConflict, domain.KindOf(err), "a name that differs in accents and case only")
		stale(t, func(id string, version int) error {
			b := branch(id, "Buea Town")
			b.Version = version
			return w.ChangeBranch(ctx, b)
		}, "buea")
		_, err = w.Branch(ctx, "nowhere")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err))

		rules, err := w.BranchRules(ctx, "douala")
		require.NoError(t, err)
		require.Equal(t, app.BranchRules{}, rules)
		rules.Seasons = map[string]programme.Season{"snail": {NotIn: map[string][]time.Month{"planted": {time.January}}}}
		require.NoError(t, w.SetBranchRules(ctx, "douala", 1, rules))
		got2, err := w.BranchRules(ctx, "douala")
		require.NoError(t, err)
		require.Equal(t, rules, got2)
	})
}

func TestHolidayEdits(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		feast, worked := calendar.Edit{On: today, Name: "Feast"}, calendar.Edit{On: today.Add(3), Name: "Labour Day", Works: true}
		require.NoError(t, w.EditHoliday(ctx, "buea", worked))
		require.NoError(t, w.EditHoliday(ctx, "buea", calendar.Edit{On: today, Name: "Moved"}))
		require.NoError(t, w.EditHoliday(ctx, "buea", feast))
		got, err := w.HolidayEdits(ctx)
		require.NoError(t, err)
		require.Equal(t, map[string][]calendar.Edit{"buea": {feast, worked}}, got)
		require.NoError(t, w.RemoveHolidayEdit(ctx, "buea", today))
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.RemoveHolidayEdit(ctx, "buea", today)))
		require.Equal(t, domain.KindConflict, domain.KindOf(w.EditHoliday(ctx, "nowhere", feast)))
	})
}

func TestPeople(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		got, err := w.Person(ctx, app.Everything, "ana")
		require.NoError(t, err)
		require.Equal(t, person("ana", "Ana Étoile", "+999670000001", farm.Grant{Role: farm.Advisor, BranchID: "buea"}), got)
		stale(t, func(id string, version int) error {
			p := person(id, "Ana E.", "", farm.Grant{Role: farm.Manager})
			p.Version = version
			return w.ChangePerson(ctx, p)
		}, "ana")
		got, err = w.Person(ctx, app.Everything, "ana")
		require.NoError(t, err)
		require.Equal(t, []farm.Grant{{Role: farm.Manager}}, got.Grants)

		of := func(id string) func(app.Scope) error {
			return func(sc app.Scope) error { _, err := w.Person(ctx, sc, id); return err }
		}
		sees(t, "the caretaker", of("care"), []app.Scope{ana, carine, owner}, []app.Scope{douala})
		sees(t, "the owner", of("own"), []app.Scope{ana, owner, carine}, []app.Scope{douala})
		sees(t, "an officer of Douala", of("dou"), []app.Scope{douala}, []app.Scope{ana, carine, owner})
		sees(t, "the manager of all", of("mo"), []app.Scope{ana, douala}, []app.Scope{carine, owner})
		sees(t, "a caretaker in Douala", of("far"), []app.Scope{douala}, []app.Scope{ana, carine, owner})
	})
}

func TestPeopleLists(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		id := func(p farm.Person) string { return p.ID }
		list := func(sc app.Scope, q app.PeopleQuery) []string {
			p, err := w.People(ctx, sc, q)
			require.NoError(t, err)
			return ids(p.Items, id)
		}
		require.Equal(t, []string{"ana", "care", "dou", "far", "mo", "own"}, list(app.Everything, app.PeopleQuery{}))
		require.Equal(t, []string{"ana", "care", "mo", "own"}, list(ana, app.PeopleQuery{}))
		require.Empty(t, list(nothing, app.PeopleQuery{}))
		require.Equal(t, []string{"ana"}, list(app.Everything, app.PeopleQuery{Role: farm.Advisor, Branch: "buea"}))
		require.Equal(t, []string{"care"}, list(app.Everything, app.PeopleQuery{FarmID: "f1"}))
		require.Equal(t, []string{"ana"}, list(app.Everything, app.PeopleQuery{Q: "etoile AN"}))
		require.Equal(t, []string{"care"}, list(app.Everything, app.PeopleQuery{Q: "3456"}))
		no := false
		require.Empty(t, list(app.Everything, app.PeopleQuery{Active: &no}))

		staff, err := w.Staff(ctx, "buea", farm.Advisor, farm.Manager)
		require.NoError(t, err)
		require.Equal(t, []string{"ana", "mo"}, ids(staff, id))
		family, err := w.PeopleByPhone(ctx, "+999677123456")
		require.NoError(t, err)
		require.Equal(t, []string{"care"}, ids(family, id))
		known, err := w.PeopleByIDs(ctx, []string{"own", "nobody", "care"})
		require.NoError(t, err)
		require.ElementsMatch(t, []string{"own", "care"}, ids(known, id))
		none, err := w.PeopleByIDs(ctx, nil)
		require.NoError(t, err)
		require.Empty(t, none)
	})
}

func TestClients(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		flagged := client("c3", "Lone Client", "12", "")
		flagged.PhoneFlag = true
		require.NoError(t, w.AddClients(ctx, flagged))
		got, err := w.Client(ctx, app.Everything, "c3")
		require.NoError(t, err)
		require.Equal(t, flagged, got)
		stale(t, func(id string, version int) error {
			c := client(id, "Ngoh and Co", "+999611111111", "own")
			c.Version = version
			return w.ChangeClient(ctx, c)
		}, "c1")
		of := func(id string) func(app.Scope) error {
			return func(sc app.Scope) error { _, err := w.Client(ctx, sc, id); return err }
		}
		sees(t, "a client in Buea", of("c1"), []app.Scope{ana, owner, carine}, []app.Scope{douala})
		sees(t, "a client without a farm", of("c3"), []app.Scope{ana, douala}, []app.Scope{owner, carine})
		page, err := w.Clients(ctx, app.Everything, app.ClientQuery{Q: "ngoh"})
		require.NoError(t, err)
		require.Len(t, page.Items, 1)
	})
}

func TestFarms(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		got, err := w.Farm(ctx, app.Everything, "f1")
		require.NoError(t, err)
		require.Equal(t, app.FarmLine{Farm: place("f1", "c1", "buea", "Hillside"), Client: "Ngoh Ltd", Standing: programme.ToConfirm}, got)
		require.Equal(t, domain.KindConflict, domain.KindOf(w.AddFarms(ctx, now, place("f9", "c1", "buea", "hill-side"), place("f8", "c1", "buea", "Hillside"))))
		_, err = w.Farm(ctx, app.Everything, "f9")
		require.Equal(t, domain.KindNotFound, domain.KindOf(err), "all or none are added")
		require.Equal(t, domain.KindConflict, domain.KindOf(w.AddFarms(ctx, now, place("f9", "nobody", "buea", "X"))))

		n, err := w.Watch(ctx, []string{"f1", "f2", "f1", "nothing"}, today)
		require.NoError(t, err)
		require.Equal(t, 2, n)
		n, err = w.Watch(ctx, []string{"f1", "f2"}, today.Add(1))
		require.NoError(t, err)
		require.Zero(t, n, "watching has begun already")
		got, err = w.Farm(ctx, app.Everything, "f1")
		require.NoError(t, err)
		require.Equal(t, today, got.WatchedOn)
		require.Equal(t, 2, got.Version)

		stale(t, func(id string, version int) error {
			f := place(id, "c2", "douala", "Harbour View")
			f.Version = version
			return w.ChangeFarm(ctx, f)
		}, "f3")
		sees(t, "a farm in Buea", func(sc app.Scope) error { _, err := w.Farm(ctx, sc, "f1"); return err },
			[]app.Scope{ana, carine, owner, {Branches: []string{"douala", "buea"}}}, []app.Scope{douala, {PersonFarms: "far"}, {Owner: "ana"}})
	})
}

func TestFarmLists(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		for _, sw := range []app.Swept{
			{FarmID: "f1", Standing: programme.Slipping, OwnSlip: 9, On: today},
			{FarmID: "f2", Standing: programme.Slipping, OwnSlip: 12, On: today},
			{FarmID: "f3", Standing: programme.Behind, OwnSlip: 3, On: today},
		} {
			require.NoError(t, w.SetSwept(ctx, sw))
		}
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.SetSwept(ctx, app.Swept{FarmID: "nothing"})))
		require.Equal(t, domain.KindStale, domain.KindOf(w.SetSwept(ctx, app.Swept{FarmID: "f1", Changes: 7})))
		_, err := w.Watch(ctx, []string{"f2"}, today)
		require.NoError(t, err)
		yes, no := true, false
		for name, c := range map[string]struct {
			sc   app.Scope
			q    app.FarmQuery
			want []string
		}{
			"all, worst first":      {app.Everything, app.FarmQuery{}, []string{"f3", "f2", "f1"}},
			"a scope":               {ana, app.FarmQuery{}, []string{"f2", "f1"}},
			"a caretaker's":         {carine, app.FarmQuery{}, []string{"f1"}},
			"an owner's":            {owner, app.FarmQuery{}, []string{"f2", "f1"}},
			"nothing":               {nothing, app.FarmQuery{}, []string{}},
			"a foreign branch":      {ana, app.FarmQuery{Branch: "douala"}, []string{}},
			"a branch":              {app.Everything, app.FarmQuery{Branch: "douala"}, []string{"f3"}},
			"a client":              {app.Everything, app.FarmQuery{ClientID: "c1"}, []string{"f2", "f1"}},
			"a standing":            {app.Everything, app.FarmQuery{Standing: programme.Behind}, []string{"f3"}},
			"an enterprise":         {app.Everything, app.FarmQuery{Enterprise: "catfish"}, []string{}},
			"a status":              {app.Everything, app.FarmQuery{Status: farm.Active, Enterprise: "snail"}, []string{"f3", "f2", "f1"}},
			"watched":               {app.Everything, app.FarmQuery{Watched: &yes}, []string{"f2"}},
			"not watched":           {app.Everything, app.FarmQuery{Watched: &no}, []string{"f3", "f1"}},
			"words in any order":    {app.Everything, app.FarmQuery{Q: "mill hill"}, []string{"f1"}},
			"a caretaker and place": {app.Everything, app.FarmQuery{Q: "hillside ngwa"}, []string{"f1"}},
			"a phone":               {app.Everything, app.FarmQuery{Q: "677 12"}, []string{"f1"}},
			"a foreign phone":       {douala, app.FarmQuery{Q: "677 12"}, []string{}},
		} {
			got, err := w.Farms(ctx, c.sc, c.q)
			require.NoError(t, err, name)
			require.Equal(t, c.want, farmIDs(got.Items), name)
			require.Empty(t, got.Next, name)
		}
		these, err := w.FarmsByIDs(ctx, ana, []string{"f3", "f1"})
		require.NoError(t, err)
		require.Equal(t, []string{"f1"}, farmIDs(these))
		counts, err := w.Standings(ctx, ana)
		require.NoError(t, err)
		require.Equal(t, []app.StandingCount{
			{BranchID: "buea", Standing: programme.Slipping, Farms: 1}, {BranchID: "buea", Standing: programme.Slipping, Watched: true, Farms: 1},
		}, counts)
		line, err := w.Farm(ctx, app.Everything, "f3")
		require.NoError(t, err)
		require.Equal(t, 1, line.Version, "a sweep makes no edit stale")
	})
}

func TestWork(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		require.NoError(t, w.SetWork(ctx, farm.Work{FarmID: "f2", PersonID: "care"}, farm.Work{FarmID: "f1", PersonID: "care", Since: "2026-02-01"}))
		want := []farm.Work{{FarmID: "f1", PersonID: "care", Since: "2026-02-01"}, {FarmID: "f2", PersonID: "care"}}
		got, err := w.WorkOf(ctx, "care")
		require.NoError(t, err)
		require.Equal(t, want, got)
		got, err = w.WorkOn(ctx, []string{"f1", "f2"})
		require.NoError(t, err)
		require.Equal(t, want, got)
		require.NoError(t, w.EndWork(ctx, "f1", "care"))
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.EndWork(ctx, "f1", "care")))
		require.Equal(t, domain.KindInvalid, domain.KindOf(w.SetWork(ctx, farm.Work{FarmID: "f1", PersonID: "care", Since: "yesterday"})))
		require.Equal(t, domain.KindConflict, domain.KindOf(w.SetWork(ctx, farm.Work{FarmID: "f1", PersonID: "nobody"})))
	})
}

func TestUnits(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		got, err := w.UnitsOf(ctx, []string{"f1"})
		require.NoError(t, err)
		require.Equal(t, []farm.Unit{unit("u1", "f1")}, got)
		require.Equal(t, domain.KindConflict, domain.KindOf(w.AddUnits(ctx, farm.Unit{ID: "u9", FarmID: "f1", Name: "HOUSE  u1"})))
		stale(t, func(id string, version int) error {
			u := unit(id, "f1")
			u.Build.Drain, u.Version = farm.Yes, version
			return w.ChangeUnit(ctx, u)
		}, "u1")
		sees(t, "a unit", func(sc app.Scope) error { _, err := w.Unit(ctx, sc, "u1"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})
		u, err := w.Unit(ctx, ana, "u1")
		require.NoError(t, err)
		require.Equal(t, farm.Yes, u.Build.Drain)
		require.InDelta(t, 40*0.3048, u.Build.Length.Metres(), 1e-12)
	})
}

func TestCycles(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		require.Equal(t, domain.KindConflict, domain.KindOf(w.AddCycles(ctx, cycle("y9", "f1", "u1"))), "one running cycle a unit")
		ended := cycle("y0", "f1", "u1")
		ended.StartedOn, ended.EndedOn = today.Add(-400), today.Add(-60)
		require.NoError(t, w.AddCycles(ctx, ended))
		got, err := w.CyclesOf(ctx, []string{"f1"})
		require.NoError(t, err)
		require.Equal(t, []farm.Cycle{ended, cycle("y1", "f1", "u1")}, []farm.Cycle{got[0].Cycle, got[1].Cycle})
		stale(t, func(id string, version int) error {
			c := cycle(id, "f1", "u1")
			c.Purpose, c.Version = string(programme.Breeding), version
			return w.ChangeCycle(ctx, c)
		}, "y1")
		require.NoError(t, w.BumpCycle(ctx, "y1", 3))
		require.Equal(t, domain.KindStale, domain.KindOf(w.BumpCycle(ctx, "y1", 3)))
		sees(t, "a cycle", func(sc app.Scope) error { _, err := w.Cycle(ctx, sc, "y1"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})

		o := app.Outlook{CycleID: "y1", Standing: programme.NoNews, Entered: programme.Behind, OwnSlip: 12, Detail: []byte(`{"a":1}`), Hash: 1<<63 + 5}
		require.NoError(t, w.SetOutlook(ctx, o))
		line, err := w.Cycle(ctx, ana, "y1")
		require.NoError(t, err)
		require.Equal(t, o, line.Outlook)
		require.Equal(t, 4, line.Version)
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.SetOutlook(ctx, app.Outlook{CycleID: "nothing"})))
	})
}

func TestMilestones(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		want := []app.Milestone{milestone("y1", "planted", -50), milestone("y1", "stocked", -10), milestone("y3", "planted", -50)}
		require.NoError(t, w.AddMilestones(ctx, want...))
		require.Equal(t, domain.KindConflict, domain.KindOf(w.AddMilestones(ctx, want[0])))
		require.NoError(t, w.MarkMilestone(ctx, "y1", "stocked", today, farm.StaffSaw, "ana"))
		require.Equal(t, domain.KindNotFound, domain.KindOf(w.MarkMilestone(ctx, "y1", "sold", today, farm.StaffSaw, "ana")))
		want[1].DoneOn, want[1].Grade, want[1].DoneBy = today, farm.StaffSaw, "ana"
		got, err := w.MilestonesOf(ctx, []string{"y1", "y3"})
		require.NoError(t, err)
		require.Equal(t, want, got)
		require.NoError(t, w.MarkMilestone(ctx, "y1", "stocked", 0, "", ""))
		require.NoError(t, w.RemoveMilestones(ctx, "y3"))
		got, err = w.MilestonesOf(ctx, []string{"y1", "y3"})
		require.NoError(t, err)
		require.Equal(t, []app.Milestone{want[0], milestone("y1", "stocked", -10)}, got)
	})
}

func TestBatchesPausesSnags(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		b := farm.Batch{ID: "b1", UnitID: "u1", CycleID: "y1", Species: "A. marginata", Count: 400, MeanWeightG: 12.5, Source: "own", StockedOn: today}
		require.NoError(t, w.AddBatches(ctx, b))
		b.Count = 390
		require.NoError(t, w.ChangeBatch(ctx, b))
		batches, err := w.BatchesOf(ctx, []string{"u1", "u2"})
		require.NoError(t, err)
		require.Equal(t, []farm.Batch{b}, batches)

		p := app.Pause{ID: "p1", CycleID: "y1", From: today, Until: today.Add(20), Reason: "floods", AskedBy: "ana", AgreedBy: "mo", Version: 1}
		require.NoError(t, w.AddPause(ctx, p))
		stale(t, func(id string, version int) error {
			q := p
			q.ID, q.Version, q.EndedOn = id, version, today.Add(9)
			return w.ChangePause(ctx, q)
		}, "p1")
		sees(t, "a pause", func(sc app.Scope) error { _, err := w.Pause(ctx, sc, "p1"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})
		pauses, err := w.PausesOf(ctx, []string{"y1"})
		require.NoError(t, err)
		p.EndedOn, p.Version = today.Add(9), 3
		require.Equal(t, []app.Pause{p}, pauses)

		n := app.Snag{ID: "n1", FarmID: "f1", UnitID: "u1", Text: "door does not close", FoundOn: today, Version: 1}
		require.NoError(t, w.AddSnags(ctx, n))
		stale(t, func(id string, version int) error {
			m := n
			m.ID, m.Version, m.FixedOn, m.FixedBy = id, version, today, "dou"
			return w.ChangeSnag(ctx, m)
		}, "n1")
		sees(t, "a snag", func(sc app.Scope) error { _, err := w.Snag(ctx, sc, "n1"); return err }, []app.Scope{ana, carine, owner}, []app.Scope{douala})
		snags, err := w.SnagsOf(ctx, []string{"f1"})
		require.NoError(t, err)
		n.FixedOn, n.FixedBy, n.Version = today, "dou", 3
		require.Equal(t, []app.Snag{n}, snags)
	})
}
