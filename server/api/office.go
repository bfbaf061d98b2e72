package api

import (
	"context"
	"net/http"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/server/app"

	"github.com/danielgtaylor/huma/v2"
)

type (
	firmBody struct {
		Name     string `json:"name" minLength:"1" maxLength:"200" example:"Palmwalk Farm Builders"`
		Language string `json:"language" enum:"en,fr"`
		Zone     string `json:"time_zone" minLength:"1" maxLength:"64" example:"Africa/Douala"`
		Currency string `json:"currency" minLength:"3" maxLength:"3" example:"XAF"`
	}
	firmAnswer struct {
		ETag string `header:"ETag"`
		Body farm.Firm
	}
	firmChange struct {
		Versioned
		Body firmBody
	}
	branchBody struct {
		Name    string         `json:"name" minLength:"1" maxLength:"200" example:"Buea"`
		Zone    string         `json:"time_zone" minLength:"1" maxLength:"64" example:"Africa/Douala"`
		Country string         `json:"country,omitempty" maxLength:"2" example:"CM" doc:"ISO 3166, for holidays and phone numbers."`
		Start   *farm.Position `json:"start,omitempty" doc:"Where rounds begin."`
		StartAt string         `json:"start_at,omitempty" maxLength:"200" doc:"What that place is called."`
		Hours   [7]farm.Span   `json:"hours,omitempty" doc:"Working hours in minutes after midnight, Sunday first; office hours when left out."`
	}
	branchAnswer struct {
		ETag string `header:"ETag"`
		Body farm.Branch
	}
	branchList struct {
		Body struct {
			Items []farm.Branch `json:"items"`
		}
	}
	// BranchPath names a branch in an address. It is exported because huma reads
	// embedded structs only then.
	BranchPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	newBranch struct {
		Once
		Body branchBody
	}
	branchChange struct {
		BranchPath
		Versioned
		Body branchBody
	}
	branchYear struct {
		BranchPath
		Year int `query:"year" required:"true" minimum:"2000" maximum:"2100" example:"2026"`
	}
	calendarAnswer struct {
		Body app.BranchCalendar
	}
	holidayPut struct {
		BranchPath
		On   string `path:"on" format:"date"`
		Body struct {
			Name  string `json:"name" maxLength:"200"`
			Works bool   `json:"works,omitempty" doc:"A computed holiday on which this branch works."`
		}
	}
	// HolidayPath names a day of a branch in an address. It is exported because huma reads
	// embedded structs only then.
	HolidayPath struct {
		BranchPath
		On string `path:"on" format:"date"`
	}
	branchRules struct {
		BranchPath
		Versioned
		Body app.BranchRules
	}
	personBody struct {
		Name     string       `json:"name" minLength:"1" maxLength:"200"`
		Phone    string       `json:"phone,omitempty" maxLength:"100" doc:"In any form; kept as E.164."`
		Email    string       `json:"email,omitempty" maxLength:"200"`
		Language string       `json:"language" enum:"en,fr"`
		Active   *bool        `json:"active,omitempty" doc:"A person who is not active cannot sign in."`
		Grants   []farm.Grant `json:"grants,omitempty" maxItems:"20"`
	}
	personAnswer struct {
		ETag string `header:"ETag"`
		Body farm.Person
	}
	peopleList struct {
		Listed
		Role   farm.Role `query:"role" enum:"administrator,manager,advisor,field-officer,caretaker,owner"`
		Branch string    `query:"branch" maxLength:"64"`
		Farm   string    `query:"farm" maxLength:"64" doc:"Who works there."`
		Q      string    `query:"q" maxLength:"200"`
	}
	peoplePage struct {
		Body app.Page[farm.Person]
	}
	// PersonPath names a person in an address. It is exported because huma reads
	// embedded structs only then.
	PersonPath struct {
		ID string `path:"id" maxLength:"64"`
	}
	newPerson struct {
		Once
		Body personBody
	}
	personChange struct {
		PersonPath
		Versioned
		Body personBody
	}
	nothing struct{}
)

func (f Face) office(api huma.API) {
	const firm, branch, person = "firm", "branches", "people"
	open := op("get-firm", http.MethodGet, "/api/firm", firm, "The firm's name and settings")
	open.Security = nil
	register(api, open, f.getFirm)
	register(api, op("change-firm", http.MethodPut, "/api/firm", firm, "Change the firm's settings"), f.changeFirm)
	register(api, op("list-branches", http.MethodGet, "/api/branches", branch, "Branches"), f.listBranches)
	register(api, op("add-branch", http.MethodPost, "/api/branches", branch, "Add a branch"), f.addBranch)
	register(api, op("change-branch", http.MethodPut, "/api/branches/{id}", branch, "Change a branch"), f.changeBranch)
	register(api, op("branch-calendar", http.MethodGet, "/api/branches/{id}/calendar", branch, "Holidays and own rules of a branch"), f.branchCalendar)
	register(api, op("edit-holiday", http.MethodPut, "/api/branches/{id}/holidays/{on}", branch, "Say what a day is at a branch"), f.editHoliday)
	register(api, op("remove-holiday", http.MethodDelete, "/api/branches/{id}/holidays/{on}", branch, "Take back what was said about a day"), f.removeHoliday)
	register(api, op("set-branch-rules", http.MethodPut, "/api/branches/{id}/rules", branch, "Seasons and due times of a branch"), f.setBranchRules)
	register(api, op("list-people", http.MethodGet, "/api/people", person, "People, by name"), f.listPeople)
	register(api, op("add-person", http.MethodPost, "/api/people", person, "Add a person"), f.addPerson)
	register(api, op("get-person", http.MethodGet, "/api/people/{id}", person, "A person"), f.getPerson)
	register(api, op("change-person", http.MethodPut, "/api/people/{id}", person, "Change a person"), f.changePerson)
}

func (f Face) getFirm(ctx context.Context, _ *struct{}) (*firmAnswer, error) {
	firm, err := f.Office.Firm(ctx)
	return &firmAnswer{etag(firm.Version), firm}, err
}

func (b firmBody) firm() farm.Firm {
	return farm.Firm{Name: b.Name, Language: b.Language, Zone: b.Zone, Currency: b.Currency}
}

func (f Face) changeFirm(ctx context.Context, in *firmChange) (*firmAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	firm := in.Body.firm()
	firm.Version = v
	firm, err = f.Office.ChangeFirm(ctx, actor(ctx), firm)
	return &firmAnswer{etag(firm.Version), firm}, err
}

func (f Face) listBranches(ctx context.Context, _ *struct{}) (*branchList, error) {
	items, err := f.Office.Branches(ctx, actor(ctx))
	out := &branchList{}
	out.Body.Items = items
	return out, err
}

func (b branchBody) branch() farm.Branch {
	out := farm.Branch{Name: b.Name, Zone: b.Zone, Country: b.Country, StartAt: b.StartAt, Hours: b.Hours}
	if b.Start != nil {
		out.Start = *b.Start
	}
	return out
}

func (f Face) addBranch(ctx context.Context, in *newBranch) (*branchAnswer, error) {
	return once(f, ctx, in.Key, "add-branch", in, func(ctx context.Context) (*branchAnswer, error) {
		b, err := f.Office.AddBranch(ctx, actor(ctx), in.Body.branch())
		return &branchAnswer{etag(b.Version), b}, err
	})
}

func (f Face) changeBranch(ctx context.Context, in *branchChange) (*branchAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	b := in.Body.branch()
	b.ID, b.Version = in.ID, v
	b, err = f.Office.ChangeBranch(ctx, actor(ctx), b)
	return &branchAnswer{etag(b.Version), b}, err
}

func (f Face) branchCalendar(ctx context.Context, in *branchYear) (*calendarAnswer, error) {
	c, err := f.Office.Calendar(ctx, actor(ctx), in.ID, in.Year)
	return &calendarAnswer{c}, err
}

func (f Face) editHoliday(ctx context.Context, in *holidayPut) (*nothing, error) {
	on, err := day("on", in.On)
	if err != nil {
		return nil, err
	}
	e := calendar.Edit{On: on, Name: in.Body.Name, Works: in.Body.Works}
	return nil, f.Office.EditHoliday(ctx, actor(ctx), in.ID, e, false)
}

func (f Face) removeHoliday(ctx context.Context, in *HolidayPath) (*nothing, error) {
	on, err := day("on", in.On)
	if err != nil {
		return nil, err
	}
	return nil, f.Office.EditHoliday(ctx, actor(ctx), in.ID, calendar.Edit{On: on}, true)
}

func (f Face) setBranchRules(ctx context.Context, in *branchRules) (*nothing, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	return nil, f.Office.SetRules(ctx, actor(ctx), in.ID, v, in.Body)
}

func (f Face) listPeople(ctx context.Context, in *peopleList) (*peoplePage, error) {
	page, err := f.Office.People(ctx, actor(ctx), app.PeopleQuery{
		Role: in.Role, Branch: in.Branch, FarmID: in.Farm, Q: in.Q, Cursor: in.Cursor, Limit: in.Limit,
	})
	return &peoplePage{page}, err
}

func (b personBody) person() farm.Person {
	return farm.Person{
		Name: b.Name, Phone: b.Phone, Email: b.Email, Language: b.Language, Grants: b.Grants,
		Active: b.Active == nil || *b.Active,
	}
}

func (f Face) addPerson(ctx context.Context, in *newPerson) (*personAnswer, error) {
	return once(f, ctx, in.Key, "add-person", in, func(ctx context.Context) (*personAnswer, error) {
		p, err := f.Office.AddPerson(ctx, actor(ctx), in.Body.person())
		return &personAnswer{etag(p.Version), p}, err
	})
}

func (f Face) getPerson(ctx context.Context, in *PersonPath) (*personAnswer, error) {
	p, err := f.Office.Person(ctx, actor(ctx), in.ID)
	return &personAnswer{etag(p.Version), p}, err
}

func (f Face) changePerson(ctx context.Context, in *personChange) (*personAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	p := in.Body.person()
	p.ID, p.Version = in.ID, v
	p, err = f.Office.ChangePerson(ctx, actor(ctx), p)
	if err == nil && !p.Active {
		// They are refused already; ended, their sessions do not come back when
		// the person does.
		err = f.SignIn.EndAllSessions(ctx, app.System, p.ID)
	}
	return &personAnswer{etag(p.Version), p}, err
}
