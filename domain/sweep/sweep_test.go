package sweep

import (
	"encoding/json"
	"testing"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func look1(f *Facts, on calendar.Date) Day { return Advance(f, Memory{}, 0, on, programme.Options{}) }

func TestAFarmOnCourseHasNoFindings(t *testing.T) {
	f := planted(3).done("trained", day0.Add(14))
	f.Visits = f.Evidence
	require.Empty(t, rulesOf(look1(f, day0.Add(21))))
	require.Equal(t, programme.OnCourse, look1(f, day0.Add(21)).Standing)
}

func TestALateMilestoneIsFoundFromItsOwnLatestAndAGrace(t *testing.T) {
	f := planted(30)
	f.Visits = f.Evidence
	own := outlookOf(look1(f, day0.Add(1)), "trained").Own
	limit := max(own.P90, own.P50.Add(5))
	heard := before(f.Evidence, limit.Add(14)) // the first news after the limit
	for on := limit; on < limit.Add(14); on++ {
		d := look1(f, on)
		found := d.finding(Key{FarmID: "f", UnitID: "u", CycleID: "c", Rule: MilestoneBehind, Subject: "trained"})
		if found == nil {
			require.Less(t, on, heard.Add(2), "found nothing by %s", on)
			continue
		}
		require.Equal(t, on.Sub(found.TrueSince) >= 3, found.Confirmed)
	}
}

func outlookOf(d Day, key string) programme.Outlook {
	for _, m := range d.Cycles[0].Forecast.Milestones {
		if m.Key == key {
			return m
		}
	}
	return programme.Outlook{}
}

func TestOneDelayDoesNotOpenATicketOnEverySuccessor(t *testing.T) {
	f := planted(30).done("trained", day0.Add(14)).done("cover", day0.Add(110))
	f.Visits = f.Evidence
	d := look1(f, day0.Add(112))
	for _, r := range rulesOf(d) {
		require.NotContains(t, r, MilestoneBehind, "what follows a late cover is not late itself")
	}
	require.Contains(t, rulesOf(d), HarvestSlip+":", "but the harvest is")
}

func TestSilenceIsFoundAndMutesWhatNeedsNews(t *testing.T) {
	f := planted(14) // planted in week 0, last news in week 14, cover long due by then
	f.Visits = f.Evidence
	last := day0.Add(14 * 7)
	require.NotContains(t, rulesOf(look1(f, last.Add(21))), NoNews+":")
	d := look1(f, last.Add(22))
	require.Contains(t, rulesOf(d), NoNews+":")
	behind := d.finding(Key{FarmID: "f", UnitID: "u", CycleID: "c", Rule: MilestoneBehind, Subject: "cover"})
	require.NotNil(t, behind)
	require.Equal(t, NoNews, behind.MutedBy.Rule)
	rests := Memory{Rests: map[Key]calendar.Date{{FarmID: "f", Rule: NoNews}: last.Add(40)}}
	d = Advance(f, rests, 0, last.Add(22), programme.Options{})
	require.False(t, d.finding(behind.Clock.Key).Muted(), "a cause at rest mutes nothing")
}

func TestGoAheadIsShortOnlyWhenItsWindowIsNear(t *testing.T) {
	f := planted(30)
	f.Visits = f.Evidence
	short := GoAheadShort + ":stocking"
	require.NotContains(t, rulesOf(look1(f, day0.Add(7))), short)
	f.done("trained", day0.Add(14)).done("cover", day0.Add(40))
	require.Contains(t, rulesOf(look1(f, day0.Add(41))), short)
	f.Units[0].Cycle.Marks["doors"] = Mark{Answer: farm.Yes, Grade: farm.StaffSaw, On: day0.Add(38)}
	require.Contains(t, rulesOf(look1(f, day0.Add(41))), short, "the module is still missing")
	f.Caretakers[0].Passes = []Pass{{Enterprise: "test", Module: "safety", On: day0.Add(14), Until: day0.Add(194)}}
	require.NotContains(t, rulesOf(look1(f, day0.Add(41))), short)
}

func TestASkippedGoAheadStaysUntilItIsMadeGood(t *testing.T) {
	f := planted(40).done("trained", day0.Add(14)).done("cover", day0.Add(40)).done("ready", day0.Add(42)).done("stocked", day0.Add(45))
	f.Visits = f.Evidence
	f.Caretakers[0].Passes = []Pass{{Enterprise: "test", Module: "safety", On: day0.Add(14), Until: day0.Add(194)}}
	skipped := GoAheadSkipped + ":stocking"
	require.Contains(t, rulesOf(look1(f, day0.Add(50))), skipped)
	f.Units[0].Cycle.Marks["doors"] = Mark{Answer: farm.Yes, Grade: farm.StaffSaw, On: day0.Add(60)}
	require.Contains(t, rulesOf(look1(f, day0.Add(59))), skipped, "not yet made good on that day")
	require.NotContains(t, rulesOf(look1(f, day0.Add(60))), skipped)
}

func TestTrainingGapOnceAnimalsLiveThere(t *testing.T) {
	f := planted(60).done("stocked", day0.Add(45))
	f.Visits = f.Evidence
	f.Caretakers[0].Passes = []Pass{{Enterprise: "test", Module: "safety", On: day0.Add(14), Until: day0.Add(194)}}
	require.NotContains(t, rulesOf(look1(f, day0.Add(194))), TrainingGap+":p")
	d := look1(f, day0.Add(195))
	require.Contains(t, rulesOf(d), TrainingGap+":p")
	require.Equal(t, "module-lapsed", d.finding(Key{FarmID: "f", Rule: TrainingGap, Subject: "p"}).Clock.Reasons[0].Code)
	f.Caretakers = nil
	require.Contains(t, rulesOf(look1(f, day0.Add(195))), TrainingGap+":")
}

// safety is the one module of the test's plan, passed on a day.
func safety(on calendar.Date) []Pass {
	return []Pass{{Enterprise: "test", Module: "safety", On: on, Until: on.Add(180)}}
}

func TestANewCaretakerIsAFindingWhileNewAndUntrained(t *testing.T) {
	f := planted(60).done("stocked", day0.Add(45))
	f.Visits, f.Caretakers[0].Passes = f.Evidence, safety(day0.Add(14))
	began := day0.Add(100)
	f.Caretakers = append(f.Caretakers, Caretaker{PersonID: "q", Since: began})
	rule := NewCaretaker + ":q"
	require.NotContains(t, rulesOf(look1(f, began.Add(-1))), rule, "not there yet")
	d := look1(f, began.Add(5))
	require.Contains(t, rulesOf(d), rule)
	reasons := d.finding(Key{FarmID: "f", Rule: NewCaretaker, Subject: "q"}).Clock.Reasons
	require.Equal(t, map[string]any{"person_id": "q", "since": began.String(), "days": 5}, reasons[0].Values)
	require.Equal(t, "module-missing", reasons[1].Code)
	require.Contains(t, rulesOf(look1(f, began.Add(30))), rule)
	require.NotContains(t, rulesOf(look1(f, began.Add(31))), rule, "no longer new")

	f.Caretakers[1].InCharge = true
	d = look1(f, began.Add(5))
	require.NotContains(t, rulesOf(d), rule, "one ticket for one trouble")
	require.Equal(t, NewCaretaker, d.finding(Key{FarmID: "f", Rule: TrainingGap, Subject: "q"}).Clock.Reasons[0].Code, "which says that they are new")

	f.Caretakers[1].InCharge, f.Caretakers[1].Passes = false, safety(began.Add(2))
	require.NotContains(t, rulesOf(look1(f, began.Add(5))), rule, "trained")
	f.Caretakers[1].Passes, f.Caretakers[1].Since = nil, day0.Add(20)
	require.NotContains(t, rulesOf(look1(f, day0.Add(46))), rule, "was there before the animals: the go-ahead spoke of it")
	f.Caretakers[1].Since = 0
	require.NotContains(t, rulesOf(look1(f, began.Add(5))), rule, "nobody knows since when")
}

func TestAFarmWithNobodyTrainedIsOneFinding(t *testing.T) {
	f := planted(60).done("stocked", day0.Add(45))
	f.Visits = f.Evidence
	f.Caretakers = append(f.Caretakers, Caretaker{PersonID: "q", Since: day0.Add(90)})
	rule := NobodyTrained + ":"
	require.NotContains(t, rulesOf(look1(f, day0.Add(44))), rule, "no animals yet")
	d := look1(f, day0.Add(100))
	require.Contains(t, rulesOf(d), rule)
	require.Equal(t, map[string]any{"people": 2, "modules": 1}, d.finding(Key{FarmID: "f", Rule: NobodyTrained}).Clock.Reasons[0].Values)
	require.NotContains(t, rulesOf(d), TrainingGap+":p", "said once for all of them")
	require.NotContains(t, rulesOf(d), NewCaretaker+":q")

	f.Caretakers[1].Passes = safety(day0.Add(101))
	require.Contains(t, rulesOf(look1(f, day0.Add(100))), rule, "not passed on that day")
	d = look1(f, day0.Add(101))
	require.NotContains(t, rulesOf(d), rule)
	require.Contains(t, rulesOf(d), TrainingGap+":p", "now it is about the one in charge")
	require.NotContains(t, rulesOf(look1(f, day0.Add(400))), rule, "a pass that has lapsed is another matter")
	f.Caretakers = nil
	require.NotContains(t, rulesOf(look1(f, day0.Add(100))), rule, "nobody is there to be trained")
}

func TestVisitsComeWeeklyAfterAHandover(t *testing.T) {
	f := planted(60)
	f.Visits = []calendar.Date{day0.Add(7)}
	require.NotContains(t, rulesOf(look1(f, day0.Add(14))), VisitOverdue+":")
	require.Contains(t, rulesOf(look1(f, day0.Add(15))), VisitOverdue+":")
	f.Visits = []calendar.Date{day0.Add(45)} // past the six weeks: the stage's fortnight holds
	require.NotContains(t, rulesOf(look1(f, day0.Add(59))), VisitOverdue+":")
	require.Contains(t, rulesOf(look1(f, day0.Add(60))), VisitOverdue+":")
}

func TestASnagIsDueBeforeTheDefectsPeriodEnds(t *testing.T) {
	f := planted(60)
	f.Units[0].DefectsUntil = day0.Add(180)
	f.Snags = []Snag{{UnitID: "u", Found: day0.Add(10)}}
	require.NotContains(t, rulesOf(look1(f, day0.Add(149))), SnagDue+":")
	require.Contains(t, rulesOf(look1(f, day0.Add(150))), SnagDue+":")
	f.Snags[0].Fixed = day0.Add(151)
	require.NotContains(t, rulesOf(look1(f, day0.Add(151))), SnagDue+":")
}

// A server that was down must end where one that ran every day ends, and one
// that runs every hour where one that runs once does.
func TestSleepingAndRepeatingChangeNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := planted(rapid.IntRange(0, 12).Draw(rt, "weeks of news"))
		f.done("trained", day0.Add(rapid.IntRange(5, 60).Draw(rt, "trained")))
		if rapid.Bool().Draw(rt, "covered") {
			f.done("cover", day0.Add(rapid.IntRange(28, 90).Draw(rt, "cover")))
		}
		from := rapid.IntRange(1, 100).Draw(rt, "from")
		sleep := rapid.IntRange(1, 30).Draw(rt, "sleep")
		to := day0.Add(from + sleep)
		mem := Memory{Clocks: look1(f, day0.Add(from)).Clocks}

		slept := Advance(f, mem, day0.Add(from), to, programme.Options{})
		daily := mem
		for d := day0.Add(from + 1); d <= to; d++ {
			once := Look(f, daily, d, programme.Options{})
			again := Look(f, Memory{Clocks: once.Clocks}, d, programme.Options{})
			require.Equal(rt, once.Clocks, again.Clocks, "asked twice on %s", d)
			daily.Clocks = again.Clocks
		}
		require.Equal(rt, daily.Clocks, slept.Clocks)
	})
}

func TestReasonsSurviveJSON(t *testing.T) {
	f := planted(0)
	for _, fd := range look1(f, day0.Add(200)).Findings {
		b, err := json.Marshal(fd.Clock.Reasons)
		require.NoError(t, err)
		var back []any
		require.NoError(t, json.Unmarshal(b, &back))
		require.NotEmpty(t, back)
	}
}

func TestAFarmWhoseContractIsPausedIsPaused(t *testing.T) {
	f := planted(14)
	last := day0.Add(14 * 7)
	require.Equal(t, programme.Behind, look1(f, last.Add(5)).Standing)
	f.Status = farm.Paused
	d := look1(f, last.Add(5))
	require.Equal(t, programme.PausedStanding, d.Standing)
	require.Equal(t, last.String(), d.Cycles[0].Verdict.Reasons[0].Values["since"], "work stopped after the last news")
	require.Positive(t, d.Cycles[0].Forecast.Slip.Pause, "what the pause costs is not the farm's own slip")
}
