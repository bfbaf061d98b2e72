package app

import (
	"context"
	"encoding/json"
	"slices"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/training"
)

// TodayModule is a module to learn, with all that a phone without a network
// needs to ask its questions in weeks to come.
type TodayModule struct {
	Enterprise string        `json:"enterprise"`
	Key        string        `json:"key"`
	Name       string        `json:"name"`
	Safety     bool          `json:"safety,omitempty"`
	Lessons    bool          `json:"lessons,omitempty" doc:"Cards and questions are in /api/lessons; else it is taught from paper."`
	Lapsed     calendar.Date `json:"lapsed_on,omitzero" doc:"Last day of a pass that holds no longer."`
	Until      calendar.Date `json:"until,omitzero" doc:"Last day of a pass that holds."`
	ReadOn     calendar.Date `json:"read_on,omitzero" doc:"When the caretaker went through it; of modules taught from paper."`
	AnsweredOn calendar.Date `json:"answered_on,omitzero" doc:"The questions are passed; the practical check is still to come."`
	CheckedOn  calendar.Date `json:"checked_on,omitzero" doc:"The practical check is passed; the questions are still to come."`
	RedoOn     calendar.Date `json:"redo_on,omitzero" doc:"On this day the practical check showed that it is to be learned again."`
	FailedOn   calendar.Date `json:"failed_on,omitzero" doc:"The last round of questions that did not pass."`
	RetakeOn   calendar.Date `json:"retake_on,omitzero" doc:"First day on which to answer again; absent for at once."`
	Waits      bool          `json:"waits,omitempty" doc:"A go-ahead lacks it, so a retake counts at once."`
	Seed       uint32        `json:"seed,omitempty" doc:"Of the next draw of questions; 0 when absent."`
}

// refreshSoon is how many days before the end of a pass the module is to
// be learned again.
const refreshSoon = training.RefreshWithin

// addModules are the modules of the farm's enterprises: those that a go-ahead
// asks for and this caretaker does not hold, or has to learn again within the
// days ahead, and the others. The phone picks by the date that it is.
func (v *todayView) addModules(ctx context.Context, out *TodayFarm) error {
	out.Modules, out.MoreModules = []TodayModule{}, []TodayModule{}
	read, err := v.modulesRead(ctx)
	if err != nil {
		return err
	}
	waits := waiting(v.loaded, v.today)
	for _, enterprise := range enterprisesOf(out.Units) {
		pack, ok := v.Packs.Pack(enterprise)
		if !ok {
			continue
		}
		for _, m := range pack.Modules {
			key := ModuleKey{enterprise, m.Key}
			row := v.trainee().module(key, m, slices.Contains(waits, key))
			if on := read[key]; on > row.Lapsed && row.Until == 0 {
				row.ReadOn = on
			}
			switch {
			case len(m.GoAheads) > 0 && (row.Until == 0 || row.Until.Sub(v.today) < refreshSoon+aheadDays):
				out.Modules = append(out.Modules, row)
			case m.Lesson != nil:
				out.MoreModules = append(out.MoreModules, row)
			}
		}
	}
	return nil
}

func (v *todayView) trainee() trainee {
	return trainee{v.who.PersonID, v.language, v.today, v.passes, v.learned}
}

// trainee is a person with all that is on record of learning.
type trainee struct {
	personID string
	language string
	today    calendar.Date
	passes   []Pass
	learned  learned
}

// module is where the person stands with one.
func (v trainee) module(key ModuleKey, m checklists.Module, waits bool) TodayModule {
	row := TodayModule{Enterprise: key.Enterprise, Key: key.Module, Name: m.Name.In(v.language), Safety: m.Safety, Lessons: m.Lesson != nil, Waits: waits}
	if until := v.heldUntil(key); until >= v.today {
		row.Until = until
	} else {
		row.Lapsed = until
	}
	if m.Lesson == nil {
		return row
	}
	_, p, rounds := v.learned.follow(v.personID, key, m, v.today)
	row.AnsweredOn, row.CheckedOn, row.RedoOn, row.FailedOn = p.AnsweredOn, p.CheckedOn, p.RedoOn, p.FailedOn
	row.RetakeOn = p.RetakeOn(waits)
	row.Seed = seedAt(v.personID, key, rounds)
	return row
}

func (v trainee) heldUntil(key ModuleKey) calendar.Date {
	var until calendar.Date
	for _, p := range v.passes {
		if p.PersonID == v.personID && p.Enterprise == key.Enterprise && p.Module == key.Module {
			until = max(until, p.Until)
		}
	}
	return until
}

// readingLife is how long having gone through a module counts: a year, as
// the longest validity of a pass.
const readingLife = 366

// modulesRead is on which day this caretaker last went through each module.
func (v *todayView) modulesRead(ctx context.Context) (map[ModuleKey]calendar.Date, error) {
	events, err := v.store.EventsSince(ctx, v.farm.ID, v.today.Add(-readingLife), EntryModuleRead)
	out := map[ModuleKey]calendar.Date{}
	for _, e := range events {
		var in ModuleReadEntry
		if e.PersonID != v.who.PersonID || json.Unmarshal(e.Data, &in) != nil {
			continue
		}
		key := ModuleKey(in)
		out[key] = max(out[key], e.On)
	}
	return out, err
}
