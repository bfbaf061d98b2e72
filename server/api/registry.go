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
	clientList struct {
		Listed
		Q string `query:"q" maxLength:"200"`
	}
	clientPage struct {
		Body app.Page[app.Client]
	}
	clientBody struct {
		Name    string `json:"name" minLength:"1" maxLength:"200"`
		Phone   string `json:"phone,omitempty" maxLength:"100"`
		Country string `json:"country,omitempty" maxLength:"2" doc:"Where a number without a country code is from."`
		OwnerID string `json:"owner_id,omitempty" maxLength:"64" doc:"The person who signs in for the client."`
	}
	clientAnswer struct {
		ETag string `header:"ETag"`
		Body app.Client
	}
	newClient struct {
		Once
		Body clientBody
	}
	clientChange struct {
		ID string `path:"id" maxLength:"64"`
		Versioned
		Body clientBody
	}
	// FarmBody is what people may say of a farm.
	FarmBody struct {
		BranchID string         `json:"branch_id" minLength:"1" maxLength:"64"`
		Name     string         `json:"name" minLength:"1" maxLength:"200"`
		Town     string         `json:"town,omitempty" maxLength:"200"`
		Landmark string         `json:"landmark,omitempty" maxLength:"200" doc:"How one finds it without a position."`
		Position *farm.Position `json:"position,omitempty"`
		Status   farm.Status    `json:"status,omitempty" enum:"active,paused,closed"`
	}
	farmLineAnswer struct {
		ETag string `header:"ETag"`
		Body app.FarmLine
	}
	newFarm struct {
		Once
		Body struct {
			ClientID string `json:"client_id" minLength:"1" maxLength:"64"`
			FarmBody
		}
	}
	farmChange struct {
		FarmPath
		Versioned
		Body FarmBody
	}
	unitBody struct {
		Name       string          `json:"name" minLength:"1" maxLength:"200"`
		Enterprise string          `json:"enterprise" minLength:"1" maxLength:"64"`
		Species    string          `json:"species,omitempty" maxLength:"64"`
		Build      farm.BuildSheet `json:"build"`
	}
	unitAnswer struct {
		ETag string `header:"ETag"`
		Body farm.Unit
	}
	newUnit struct {
		FarmPath
		Once
		Body unitBody
	}
	unitChange struct {
		ID string `path:"id" maxLength:"64"`
		Versioned
		Body unitBody
	}
	newCycle struct {
		ID string `path:"id" maxLength:"64" doc:"The unit."`
		Once
		Body struct {
			Purpose    string        `json:"purpose" enum:"grow-out,breeding"`
			StartedOn  calendar.Date `json:"started_on" format:"date"`
			StartsWith string        `json:"starts_with,omitempty" maxLength:"64" doc:"Milestone of day one when it is an earlier one than the pack's own start, such as the handover."`
		}
	}
	cycleAnswer struct {
		ETag string `header:"ETag"`
		Body app.CycleLine
	}
	cycleEnd struct {
		ID string `path:"id" maxLength:"64"`
		Versioned
		Body struct {
			EndedOn calendar.Date `json:"ended_on" format:"date"`
		}
	}
	workPut struct {
		FarmPath
		Person string `path:"person" maxLength:"64"`
		Body   struct {
			InCharge bool          `json:"in_charge"`
			Since    calendar.Date `json:"since,omitempty" format:"date"`
		}
	}
	workID struct {
		FarmPath
		Person string `path:"person" maxLength:"64"`
	}
)

func (f Face) registry(api huma.API) {
	const clients, farms, units = "clients", "farms", "units"
	register(api, op("list-clients", http.MethodGet, "/api/clients", clients, "Clients, by name"), f.listClients)
	register(api, op("add-client", http.MethodPost, "/api/clients", clients, "Add a client"), f.addClient)
	register(api, op("change-client", http.MethodPut, "/api/clients/{id}", clients, "Change a client"), f.changeClient)
	register(api, op("add-farm", http.MethodPost, "/api/farms", farms, "Add a farm; it is watched from today"), f.addFarm)
	register(api, op("change-farm", http.MethodPut, "/api/farms/{id}", farms, "Change a farm"), f.changeFarm)
	register(api, op("add-unit", http.MethodPost, "/api/farms/{id}/units", units, "Add a unit with its build sheet"), f.addUnit)
	register(api, op("change-unit", http.MethodPut, "/api/units/{id}", units, "Change a unit's build sheet"), f.changeUnit)
	register(api, op("start-cycle", http.MethodPost, "/api/units/{id}/cycles", units, "Start a cycle; its baseline is kept"), f.startCycle)
	register(api, op("end-cycle", http.MethodPost, "/api/cycles/{id}/end", units, "End a cycle"), f.endCycle)
	register(api, op("set-work", http.MethodPut, "/api/farms/{id}/people/{person}", farms, "Say that a caretaker works on a farm"), f.setWork)
	register(api, op("end-work", http.MethodDelete, "/api/farms/{id}/people/{person}", farms, "Say that a caretaker works there no more"), f.endWork)
}

func (f Face) listClients(ctx context.Context, in *clientList) (*clientPage, error) {
	page, err := f.Registry.Clients(ctx, actor(ctx), app.ClientQuery{Q: in.Q, Cursor: in.Cursor, Limit: in.Limit})
	return &clientPage{page}, err
}

func (b clientBody) client() farm.Client {
	return farm.Client{Name: b.Name, Phone: b.Phone, OwnerID: b.OwnerID}
}

func (f Face) addClient(ctx context.Context, in *newClient) (*clientAnswer, error) {
	return once(f, ctx, in.Key, "add-client", in, func(ctx context.Context) (*clientAnswer, error) {
		c, err := f.Registry.AddClient(ctx, actor(ctx), in.Body.client(), in.Body.Country)
		return &clientAnswer{etag(c.Version), c}, err
	})
}

func (f Face) changeClient(ctx context.Context, in *clientChange) (*clientAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	c := in.Body.client()
	c.ID, c.Version = in.ID, v
	row, err := f.Registry.ChangeClient(ctx, actor(ctx), c, in.Body.Country)
	return &clientAnswer{etag(row.Version), row}, err
}

func (b FarmBody) farm() farm.Farm {
	out := farm.Farm{BranchID: b.BranchID, Name: b.Name, Town: b.Town, Landmark: b.Landmark, Status: b.Status}
	if b.Position != nil {
		out.Position = *b.Position
	}
	return out
}

func (f Face) addFarm(ctx context.Context, in *newFarm) (*farmLineAnswer, error) {
	return once(f, ctx, in.Key, "add-farm", in, func(ctx context.Context) (*farmLineAnswer, error) {
		fm := in.Body.farm()
		fm.ClientID = in.Body.ClientID
		line, err := f.Registry.AddFarm(ctx, actor(ctx), fm)
		return &farmLineAnswer{etag(line.Version), line}, err
	})
}

func (f Face) changeFarm(ctx context.Context, in *farmChange) (*farmLineAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	fm := in.Body.farm()
	fm.ID, fm.Version = in.ID, v
	line, err := f.Registry.ChangeFarm(ctx, actor(ctx), fm)
	return &farmLineAnswer{etag(line.Version), line}, err
}

func (b unitBody) unit() farm.Unit {
	return farm.Unit{Name: b.Name, Enterprise: b.Enterprise, Species: b.Species, Build: b.Build}
}

func (f Face) addUnit(ctx context.Context, in *newUnit) (*unitAnswer, error) {
	return once(f, ctx, in.Key, "add-unit "+in.ID, in, func(ctx context.Context) (*unitAnswer, error) {
		u := in.Body.unit()
		u.FarmID = in.ID
		u, err := f.Registry.AddUnit(ctx, actor(ctx), u)
		return &unitAnswer{etag(u.Version), u}, err
	})
}

func (f Face) changeUnit(ctx context.Context, in *unitChange) (*unitAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	u := in.Body.unit()
	u.ID, u.Version = in.ID, v
	u, err = f.Registry.ChangeUnit(ctx, actor(ctx), u)
	return &unitAnswer{etag(u.Version), u}, err
}

func (f Face) startCycle(ctx context.Context, in *newCycle) (*cycleAnswer, error) {
	return once(f, ctx, in.Key, "start-cycle "+in.ID, in, func(ctx context.Context) (*cycleAnswer, error) {
		c, err := f.Registry.StartCycle(ctx, actor(ctx), in.ID, app.StartCycle{Purpose: in.Body.Purpose, StartsWith: in.Body.StartsWith, StartedOn: in.Body.StartedOn})
		return &cycleAnswer{etag(c.Version), c}, err
	})
}

func (f Face) endCycle(ctx context.Context, in *cycleEnd) (*cycleAnswer, error) {
	v, err := in.version()
	if err != nil {
		return nil, err
	}
	c, err := f.Registry.EndCycle(ctx, actor(ctx), in.ID, v, in.Body.EndedOn)
	return &cycleAnswer{etag(c.Version), c}, err
}

func (f Face) setWork(ctx context.Context, in *workPut) (*nothing, error) {
	return nil, f.Registry.SetWork(ctx, actor(ctx), farm.Work{FarmID: in.ID, PersonID: in.Person, InCharge: in.Body.InCharge, Since: in.Body.Since.String()})
}

func (f Face) endWork(ctx context.Context, in *workID) (*nothing, error) {
	return nil, f.Registry.EndWork(ctx, actor(ctx), in.ID, in.Person)
}
