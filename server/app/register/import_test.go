package register_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"
	"tendfold/server/app/register"
	"tendfold/server/app/register/registertest"
	"tendfold/server/intake"

	"github.com/stretchr/testify/require"
)

var shipped = sync.OnceValues(checklists.Embedded)

// desk is a firm that takes registers in on 25 November 2026.
type desk struct {
	t       require.TestingT
	memory  *registertest.Memory
	imports *register.Imports
	who     app.Actor
	last    register.Result
}

func newDesk(t require.TestingT) *desk {
	packs, err := shipped()
	require.NoError(t, err)
	m := &registertest.Memory{}
	ids := 0
	core := app.Core{
		Store: m, Packs: packs,
		Now:   func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) },
		NewID: func() string { ids++; return fmt.Sprintf("id%06d", ids) },
	}
	return &desk{t: t, memory: m, imports: register.NewImports(core, m, app.NewPlans(m, packs), &registertest.Queue{}), who: app.System}
}

// in is the import of a text with commas, committed.
func in(t require.TestingT, text string) register.Import {
	table, err := intake.Read(strings.NewReader(text))
	require.NoError(t, err)
	return register.Import{Sheet: table, Name: "register.csv", Commit: true, Branch: farm.Branch{Zone: "Africa/Douala", Country: "CM"}}
}

func (d *desk) run(x register.Import) register.Answer {
	r, err := d.imports.Run(context.Background(), d.who, x)
	require.NoError(d.t, err)
	d.last = r
	return r.Tell("en", x.Sheet.Header(), x.Commit)
}

func (d *desk) take(text string) register.Answer { return d.run(in(d.t, text)) }

// verdicts are "row word" and what changed, codes are "row column code".
func verdicts(a register.Answer) []string {
	var out []string
	for _, v := range a.Verdicts {
		s := fmt.Sprintf("%d %s", v.Row, v.Verdict)
		for _, c := range v.Changes {
			s += fmt.Sprintf(" %s:%s>%s", c.Column, c.From, c.To)
		}
		out = append(out, s)
	}
	return out
}

func codes(a register.Answer) []string {
	out := []string{}
	for _, p := range a.Problems {
		out = append(out, fmt.Sprintf("%d %s %s", p.Row, p.Column, p.Code))
	}
	return out
}

const head = "client,client_phone,farm,town,latitude,longitude,branch,unit,enterprise,purpose,species,length,width,length_unit,capacity,water,handed_over_on,planted_on,stocked_on,stocked_count,mean_weight_g,first_harvest_on,last_visit_on,caretaker,caretaker_phone,trained_on,language,status\n"

const (
	hill = "Mbah Ada,677123456,Hill farm,Buea,4.15,9.24,Buea,House 1,snail,grow-out,,40,25,ft,5000,borehole,2026-01-10,2026-02-12,2026-04-12,900,35,,2026-11-20,Ana Ngole,677223344,2026-03-01,fr,active\n"
	lake = "Tabi Jude,699112233,Lake farm,Douala,4.05,9.70,Douala,Tank A,catfish,,,,,,,,,,,,,,,,,,,\n"
)

func TestANewRegister(t *testing.T) {
	d := newDesk(t)
	a := d.take(head + hill + lake)
	require.Equal(t, []string{"2 new", "3 new"}, verdicts(a))
	require.Empty(t, codes(a))
	require.Equal(t, [6]int{2, 2, 0, 0, 0, 0}, [6]int{a.Rows, a.New, a.Changed, a.Same, a.Refused, a.Doubles})

	s := d.memory.Snapshot
	require.Len(t, s.Branches, 2)
	require.Equal(t, "Africa/Douala", s.Branches[0].Zone)
	require.Equal(t, "+237677123456", s.Clients[0].Phone)
	f := s.Farms[0]
	require.Equal(t, "Hill farm", f.Name)
	require.Equal(t, farm.Active, f.Status)
	require.Equal(t, "2026-11-25", f.IntakeOn.String())
	require.False(t, f.Watched(), "an imported farm is to confirm")
	u := s.Units[0]
	require.Equal(t, farm.Length{Value: 40, Measure: "ft"}, u.Build.Length)
	require.InDelta(t, 92.90304, u.Build.AreaM2(), 1e-9) // 1,000 square feet, exact by 0.3048 m
	require.Equal(t, "2026-01-10", u.Build.HandedOverOn.String())
	p := s.People[0]
	require.Equal(t, []farm.Grant{{Role: farm.Caretaker}}, p.Grants)
	require.Equal(t, "fr", p.Language)
	require.Equal(t, []farm.Work{{FarmID: f.ID, PersonID: p.ID, InCharge: true}}, s.Work)
	require.Equal(t, "2026-11-20", s.Visits[f.ID].String())
	require.Equal(t, 900, s.Batches[0].Count)
	require.Equal(t, "2026-04-12", s.Batches[0].StockedOn.String())

	require.Len(t, s.Cycles, 1, "a unit without any day has no cycle")
	require.Equal(t, "2026-02-12", s.Cycles[0].StartedOn.String())
	require.Equal(t, "grow-out", s.Cycles[0].Purpose)
	require.Equal(t, map[string]string{
		"build-finished": "2026-02-12", "water-proved": "2026-02-12", // before the start: on the start day
		"planted": "2026-02-12", "caretaker-trained": "2026-03-01", "stocked": "2026-04-12",
	}, done(s))
	for _, m := range s.Milestones {
		require.NotZero(t, m.Target, m.Key)
		if !m.DoneOn.IsZero() {
			require.Equal(t, farm.Register, m.Grade)
		}
	}
	require.NotEmpty(t, s.Passes)
	for _, x := range s.Passes {
		require.Equal(t, "register", x.How)
		require.Equal(t, "2026-03-01", x.On.String())
		require.Greater(t, x.Until, x.On)
	}
}

func done(s register.Snapshot) map[string]string {
	out := map[string]string{}
	for _, m := range s.Milestones {
		if !m.DoneOn.IsZero() {
			out[m.Key] = m.DoneOn.String()
		}
	}
	return out
}

func TestIntakeIsNewsOnItsDayAndSoIsEveryDayItStates(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill)
	days := map[string]string{}
	for _, e := range d.memory.Events {
		require.True(t, e.Evidence)
		require.False(t, e.RecordedAt.IsZero())
		days[e.On.String()] += e.Kind + " "
	}
	require.Equal(t, map[string]string{
		"2026-02-12": "milestone ", "2026-03-01": "milestone ", "2026-04-12": "milestone ", "2026-11-20": "visit ", "2026-11-25": "intake ",
	}, days)
}

func TestADryRunWritesNothing(t *testing.T) {
	d := newDesk(t)
	x := in(t, head+hill)
	x.Commit = false
	a := d.run(x)
	require.Equal(t, 1, a.New)
	require.False(t, a.Committed)
	require.Zero(t, d.memory.Writes)
}

func TestTheSameFileAgainChangesNothing(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill + lake)
	writes, audit := d.memory.Writes, len(d.memory.Audit)
	a := d.take(head + hill + lake)
	require.Equal(t, []string{"2 same", "3 same"}, verdicts(a))
	require.Equal(t, writes, d.memory.Writes)
	require.Len(t, d.memory.Audit, audit)
}

func TestBlankCellsEraseNothing(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill)
	before := d.memory.Snapshot
	a := d.take("client,client_phone,farm,unit,enterprise\nMbah Ada,677123456,Hill farm,House 1,snail\nMBAH  ADA,,hill FARM,house-1,Escargots\n")
	require.Equal(t, "2 same", verdicts(a)[0])
	require.Equal(t, "3 same", verdicts(a)[1])
	require.Equal(t, before, d.memory.Snapshot)
}

func TestAChangedCellIsNamed(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{",Buea,4.15", ",Limbe,4.15", "town:Buea>Limbe"},
		{"4.15,9.24", "4.16,9.24", "latitude:4.15, 9.24>4.16, 9.24"},
		{"9.24,Buea", "9.24,Limbe", "branch:Buea>Limbe"},
		{"40,25,ft", "40,26,ft", "width:25 ft>26 ft"},
		{"40,25,ft", "40 m,25,ft", "length:40 ft>40 m"},
		{"borehole", "forage", ""},
		{"borehole", "well", "water:borehole>well"},
		{"2026-01-10", "2026-01-11", "handed_over_on:2026-01-10>2026-01-11"},
		{"2026-02-12", "2026-02-14", "planted_on:2026-02-12>2026-02-14"},
		{"2026-04-12", "2026-04-14", "stocked_on:2026-04-12>2026-04-14"},
		{"900", "950", "stocked_count:900>950"},
		{",35,,", ",36,,", "mean_weight_g:35>36"},
		{",35,,", ",35,2026-11-01,", "first_harvest_on:>2026-11-01"},
		{"2026-11-20", "2026-11-24", "last_visit_on:2026-11-20>2026-11-24"},
		{"2026-11-20", "2026-10-24", ""}, // earlier than the visit known: nothing new
		{"Ana Ngole,677223344", "Paul Eto,677556677", "caretaker:Ana Ngole>Paul Eto trained_on:>2026-03-01"},
		{"2026-03-01", "2026-03-02", "trained_on:2026-03-01>2026-03-02"},
		{",fr,", ",en,", "language:fr>en"},
		{"active", "paused", "status:active>paused"},
		{"grow-out", "breeding", "purpose:grow-out>breeding"},
	} {
		require.Contains(t, hill, c.from)
		changed := head + strings.Replace(hill, c.from, c.to, 1)
		d := newDesk(t)
		d.take(head + hill)
		want := "2 changed " + c.want
		if c.want == "" {
			want = "2 same"
		}
		require.Equal(t, []string{want}, verdicts(d.take(changed)), c)
		require.Equal(t, []string{"2 same"}, verdicts(d.take(changed)), c)
	}
}

func TestACorrectedStartIsPromisedAnew(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill)
	before := target(d.memory.Snapshot, "first-harvest")
	d.take(head + strings.Replace(hill, "2026-02-12", "2026-02-22", 1))
	require.InDelta(t, 10, target(d.memory.Snapshot, "first-harvest").Sub(before), 2, "days pass at the season's rate")
	require.Equal(t, map[string]string{
		"build-finished": "2026-02-22", "water-proved": "2026-02-22",
		"planted": "2026-02-22", "caretaker-trained": "2026-03-01", "stocked": "2026-04-12",
	}, done(d.memory.Snapshot))
}

func target(s register.Snapshot, key string) calendar.Date {
	for _, m := range s.Milestones {
		if m.Key == key {
			return m.Target
		}
	}
	return 0
}

func TestAPersonsMarkIsNotOverwritten(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill)
	id := d.memory.Snapshot.Cycles[0].ID
	require.NoError(t, d.memory.MarkMilestone(context.Background(), id, "stocked", calendar.MustDate("2026-04-15"), farm.Photo, "officer"))
	a := d.take(head + hill)
	require.Equal(t, []string{"2 same"}, verdicts(a))
	require.Equal(t, []string{"2 stocked_on date-kept"}, codes(a))
	require.Contains(t, a.Problems[0].Text, "2026-04-15")
}

func TestTheNextCycle(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill)
	next := head + strings.NewReplacer("2026-02-12,2026-04-12,900,35", "2026-10-05,,,").Replace(hill)
	require.Equal(t, []string{"2 changed planted_on:>2026-10-05"}, verdicts(d.take(next)))
	s := d.memory.Snapshot
	require.Len(t, s.Cycles, 2)
	require.Equal(t, "2026-10-05", s.Cycles[0].EndedOn.String())
	require.Equal(t, "2026-10-05", s.Cycles[1].StartedOn.String())
	require.Equal(t, []string{"2 same"}, verdicts(d.take(next)))
	require.Equal(t, []string{"2 same"}, verdicts(d.take(head+hill)), "the old file speaks of a cycle that is over")
}

func TestAStartThatIsNotGivenIsReckoned(t *testing.T) {
	d := newDesk(t)
	a := d.take("client,farm,unit,enterprise,stocked_on,stocked_count\nMbah,Hill,1,snail,2026-06-30,500\n")
	require.Equal(t, []string{"2 planted_on start-estimated"}, codes(a))
	s := d.memory.Snapshot
	require.Less(t, s.Cycles[0].StartedOn, calendar.MustDate("2026-06-30"))
	require.Empty(t, done(s)["planted"], "nobody has said when it was planted")
	require.Equal(t, "2026-06-30", done(s)["stocked"])
	// So that an unknown start makes the farm neither late nor early.
	require.InDelta(t, 0, float64(calendar.MustDate("2026-06-30").Sub(target(s, "stocked"))), 14)
	require.Equal(t, []string{"2 same"}, verdicts(d.take("client,farm,unit,enterprise,stocked_on,stocked_count\nMbah,Hill,1,snail,2026-06-30,500\n")))
}

func TestRefusedRowsWriteNothingAndSpareTheirNeighbours(t *testing.T) {
	d := newDesk(t)
	a := d.take(head +
		"Bad Date,677000001,F,,,,,1,snail,,,,,,,,,31/02/2026,,,,,,,,,,\n" +
		hill +
		"Too Many,677000002,F,,,,,1,snail,,,10,10,m,,,,2026-02-12,2026-04-12,100001,,,,,,,,\n" +
		",,F,,,,,1,snail,,,,,,,,,,,,,,,,,,,\n")
	require.Equal(t, []string{"2 refused", "3 new", "4 refused", "5 refused"}, verdicts(a))
	require.Equal(t, []string{"2 planted_on date-none", "4 stocked_count too-many-animals", "5 client cell-required"}, codes(a))
	require.Len(t, d.memory.Snapshot.Clients, 1)
	require.Len(t, d.memory.Snapshot.Farms, 1)
	require.Equal(t, 3, a.Refused)
}

func TestFlags(t *testing.T) {
	const columns = "client,farm,unit,enterprise,length,width,length_unit,capacity,planted_on,stocked_on,stocked_count,mean_weight_g,first_harvest_on\n"
	for _, c := range []struct{ cells, want string }{
		{"10,10,m,800,,2026-06-01,900,", "stocked_count over-capacity"},
		{"10,10,m,,2026-03-01,2026-05-01,9000,35,", "stocked_count over-density"},
		{",,,,2026-05-01,2026-04-01,500,,", "stocked_on stocked-before-started"},
		{",,,,2026-03-01,2026-03-03,500,,", "stocked_on odd-interval"},
		{",,,,2025-03-01,2026-03-03,500,,", "stocked_on odd-interval"},
		{",,,,2026-03-01,2026-05-01,500,,2026-04-01", "first_harvest_on harvest-before-stocked"},
		{",,,,2026-03-01,2026-05-01,500,,2026-05-03", "first_harvest_on odd-interval"},
		{",,,,,,500,,", "stocked_count count-without-date"},
	} {
		d := newDesk(t)
		a := d.take(columns + "Mbah,Hill,1,snail," + c.cells + "\n")
		require.Equal(t, 1, a.New, c)
		require.Contains(t, codes(a), "2 "+c.want, c)
		require.Equal(t, 1, d.take(columns+"Mbah,Hill,1,snail,"+c.cells+"\n").Same, c)
	}
}

func TestKeys(t *testing.T) {
	const columns = "client,client_phone,farm,unit,enterprise,caretaker,caretaker_phone\n"
	for name, c := range map[string]struct {
		rows                              string
		clients, farms, units, caretakers int
	}{
		"client by phone, however typed": {"A,677123456,f,1,snail,,\nA,+237 677 12 34 56,g,1,snail,,\n", 1, 2, 2, 0},
		"client by name":                 {"Ébongué Jean,,f,1,snail,,\nEBONGUE  jean,,g,1,snail,,\n", 1, 2, 2, 0},
		"a name gains its phone":         {"A,,f,1,snail,,\nA,677123456,g,1,snail,,\n", 1, 2, 2, 0},
		"a phone is told once":           {"A,677123456,f,1,snail,,\nA,,g,1,snail,,\n", 1, 2, 2, 0},
		"two clients of one name":        {"A,677123456,f,1,snail,,\nA,699123456,f,1,snail,,\n", 2, 2, 2, 0},
		"farm by client and name":        {"A,,f,1,snail,,\nB,,f,1,snail,,\n", 2, 2, 2, 0},
		"two units a farm":               {"A,,f,1,snail,,\nA,,f,2,snail,,\n", 1, 1, 2, 0},
		"a family shares a phone":        {"A,,f,1,snail,Ana,677123456\nA,,f,2,snail,Jean,677123456\n", 1, 1, 2, 2},
		"one caretaker of two farms":     {"A,,f,1,snail,Ana,677123456\nB,,g,2,snail,ANA,677 12 34 56\n", 2, 2, 2, 1},
		"two Pauls without a phone":      {"A,,f,1,snail,Paul,\nB,,g,1,snail,Paul,\n", 2, 2, 2, 2},
		"one Paul of one client":         {"A,,f,1,snail,Paul,\nA,,g,1,snail,Paul,\n", 1, 2, 2, 1},
		"a caretaker gains his phone":    {"A,,f,1,snail,Paul,\nA,,f,2,snail,Paul,677123456\n", 1, 1, 2, 1},
		"a number that is none is a key": {"A,67712,f,1,snail,,\nA,677 12,g,1,snail,,\n", 1, 2, 2, 0},
	} {
		d := newDesk(t)
		d.take(columns + c.rows)
		s := d.memory.Snapshot
		require.Equal(t, [4]int{c.clients, c.farms, c.units, c.caretakers}, [4]int{len(s.Clients), len(s.Farms), len(s.Units), len(s.People)}, name)
		require.Equal(t, []string{"2 same", "3 same"}, verdicts(d.take(columns+c.rows)), name)
	}
}

func TestARowRepeatedInTheFile(t *testing.T) {
	d := newDesk(t)
	a := d.take(head + hill + hill)
	require.Equal(t, []string{"2 new", "3 same"}, verdicts(a))
	require.Equal(t, []string{"3 unit row-repeated"}, codes(a))
}

func TestAFileThatContradictsItself(t *testing.T) {
	d := newDesk(t)
	text := head + hill + strings.NewReplacer("House 1", "House 2", ",Buea,4.15", ",Limbe,4.15").Replace(hill)
	a := d.take(text)
	require.Equal(t, []string{"2 new", "3 new"}, verdicts(a))
	require.Equal(t, []string{"3 town said-otherwise"}, codes(a))
	require.Equal(t, "Buea", d.memory.Snapshot.Farms[0].Town)
	require.Equal(t, []string{"2 same", "3 same"}, verdicts(d.take(text)))
}

func TestDoubles(t *testing.T) {
	const columns = "client,client_phone,farm,latitude,longitude,unit,enterprise\n"
	for name, c := range map[string]struct {
		rows string
		want []string
	}{
		"same phone, another name":              {"Mbah Ada,677123456,f,,,1,snail\nTabi Jude,677123456,g,,,1,snail\n", []string{"3 client_phone double-phone"}},
		"close client names within a kilometre": {"Mbah Ada,,Hill,4.15,9.24,1,snail\nMbah Adda,,Ridge,4.155,9.24,1,snail\n", []string{"3 farm double-near"}},
		"close farm names within a kilometre":   {"Mbah,,Hill farm,4.15,9.24,1,snail\nTabi,,Hil farm,4.155,9.24,1,snail\n", []string{"3 farm double-near"}},
		"close names further away":              {"Mbah Ada,,Hill farm,4.15,9.24,1,snail\nMbah Adda,,Hill farm,4.16,9.24,1,snail\n", nil},
		"other names near by":                   {"Mbah Ada,,Hill,4.15,9.24,1,snail\nTabi Jude,,Ridge,4.15,9.24,1,snail\n", nil},
		"two farms of one client":               {"Mbah Ada,,Hill,4.15,9.24,1,snail\nMbah Ada,,Ridge,4.15,9.24,1,snail\n", nil},
		"numbered farms of one client":          {"Mbah Ada,,Farm 1,4.15,9.24,1,snail\nMbah Ada,,Farm 2,4.15,9.24,1,snail\n", nil},
		"no position":                           {"Mbah Ada,,Hill farm,,,1,snail\nMbah Adda,,Hill farm,,,1,snail\n", nil},
	} {
		d := newDesk(t)
		a := d.take(columns + c.rows)
		require.ElementsMatch(t, c.want, codes(a), name)
		require.Equal(t, len(c.want), a.Doubles, name)
		require.Equal(t, 2, a.New, name)
		again := d.take(columns + c.rows)
		require.Equal(t, codes(a), codes(again), name)
		require.Equal(t, 2, again.Same, name)
	}
}

func TestCaretakersOfNearlyOneName(t *testing.T) {
	const text = "client,farm,unit,enterprise,caretaker,caretaker_phone\nA,f,1,snail,Ana Ngole,677123456\nB,g,1,snail,Anna Ngole,677123456\nC,h,1,snail,Jean,677123456\n"
	d := newDesk(t)
	require.Equal(t, []string{"3 caretaker double-caretaker"}, codes(d.take(text)))
	require.Equal(t, []string{"3 caretaker double-caretaker"}, codes(d.take(text)))
}

func TestWatching(t *testing.T) {
	d := newDesk(t)
	x := in(t, head+hill+strings.NewReplacer("Hill", "Shut", "active", "closed").Replace(hill))
	x.Watch = true
	d.run(x)
	require.Equal(t, "2026-11-25", d.memory.Snapshot.Farms[0].WatchedOn.String())
	require.False(t, d.memory.Snapshot.Farms[1].Watched(), "a closed farm is not watched")

	d = newDesk(t)
	d.take(head + hill)
	x = in(t, head+hill)
	x.Watch = true
	require.Equal(t, []string{"2 changed watched:>2026-11-25"}, verdicts(d.run(x)))
	require.Equal(t, []string{"2 same"}, verdicts(d.run(x)))
}

func TestBranches(t *testing.T) {
	const none = "client,farm,unit,enterprise\nA,f,1,snail\n"
	d := newDesk(t)
	x := in(t, none)
	x.Branch.Name = "Head office"
	require.Empty(t, codes(d.run(x)))
	require.Equal(t, "Head office", d.memory.Snapshot.Branches[0].Name)

	d = newDesk(t)
	d.take(head + hill + lake)
	a := d.take(none)
	require.Equal(t, []string{"2 branch branch-assumed"}, codes(a))
	require.Equal(t, []string{"2 same"}, verdicts(d.take(none)))
}

func TestWhoMay(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill + lake)
	buea, douala := d.memory.Snapshot.Branches[0].ID, d.memory.Snapshot.Branches[1].ID
	for _, role := range []farm.Role{farm.Advisor, farm.FieldOfficer, farm.Caretaker, farm.Owner} {
		d.who = app.Actor{PersonID: "p", Grants: []farm.Grant{{Role: role}}}
		_, err := d.imports.Run(context.Background(), d.who, in(t, head+hill))
		require.Equal(t, domain.KindForbidden, domain.KindOf(err), role)
	}
	d.who = app.Actor{PersonID: "p", Grants: []farm.Grant{{Role: farm.Manager, BranchID: buea}, {Role: farm.Advisor, BranchID: douala}}}
	a := d.take(head + hill + lake + strings.Replace(lake, "9.70,Douala", "9.70,Bamenda", 1) + strings.Replace(lake, "9.70,Douala", "9.70,Buea", 1))
	require.Equal(t, []string{"2 same", "3 refused", "4 refused", "5 refused"}, verdicts(a))
	require.Equal(t, []string{"3 branch branch-not-yours", "4 branch branch-not-yours", "5 branch branch-not-yours"}, codes(a))
	d.who = app.Actor{PersonID: "p", Grants: []farm.Grant{{Role: farm.Manager}}}
	require.Equal(t, 2, d.take(head+hill+lake).Same)
}

func TestEnterprises(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill + lake)
	a := d.take("client,client_phone,farm,unit,enterprise\nMbah Ada,677123456,Hill farm,House 1,catfish\nTabi Jude,699112233,Lake farm,Tank A,snail\n")
	require.Equal(t, []string{"2 refused", "3 changed enterprise:catfish>snail"}, verdicts(a), "a cycle runs on the first")
	require.Equal(t, []string{"2 enterprise unit-other-enterprise"}, codes(a))
}

// Whatever write fails, nothing is left behind, and the next try is whole.
func TestAFailedWriteLeavesNothing(t *testing.T) {
	whole := newDesk(t)
	whole.take(head + hill + lake)
	for at := 1; at <= whole.memory.Writes; at++ {
		d := newDesk(t)
		d.memory.FailAt = at
		_, err := d.imports.Run(context.Background(), d.who, in(t, head+hill+lake))
		require.ErrorIs(t, err, registertest.Failed)
		require.Equal(t, register.Snapshot{}, d.memory.Snapshot)
		require.Empty(t, d.memory.Events)
		d.memory.FailAt = 0
		require.Equal(t, 2, d.take(head+hill+lake).New)
	}
}

func TestTheAuditSaysWhatChanged(t *testing.T) {
	d := newDesk(t)
	d.take(head + hill)
	require.Len(t, d.memory.Audit, 2)
	require.Equal(t, "register", d.memory.Audit[0].Thing)
	require.Equal(t, "intake-new", d.memory.Audit[1].Verb)
	d.take(head + strings.Replace(hill, "900", "950", 1))
	line := d.memory.Audit[3]
	require.Equal(t, "intake-changed", line.Verb)
	require.Equal(t, map[register.Column]string{register.ColCount: "900"}, line.Before)
	require.Equal(t, map[register.Column]string{register.ColCount: "950"}, line.After)
	require.NotEmpty(t, line.FarmID)
}

func TestTheAnswerSpeaksTheReadersWords(t *testing.T) {
	d := newDesk(t)
	x := in(t, "Client;Ferme;Unité;Filière;Planté le\nA;f;1;escargot;31/02/2026\n")
	r, err := d.imports.Run(context.Background(), d.who, x)
	require.NoError(t, err)
	p := r.Tell("fr", x.Sheet.Header(), true).Problems[0]
	require.Equal(t, "Planté le", p.Column)
	require.Equal(t, 2, p.Row)
	require.Contains(t, p.Text, "« 31/02/2026 » n'est pas une date")
}

func TestARegisterNeedsARealZoneAndCountry(t *testing.T) {
	d := newDesk(t)
	x := in(t, "client,farm,unit,enterprise\nAda Mbah,Hill,House 1,snail\n")
	x.Country = "Mars"
	_, err := d.imports.Run(t.Context(), d.who, x)
	require.Equal(t, "country-unknown", domain.CodeOf(err))
	x.Country, x.Branch.Zone = "GH", "Mars/Base"
	_, err = d.imports.Run(t.Context(), d.who, x)
	require.Equal(t, "time-zone-unknown", domain.CodeOf(err))
}
