package main

import (
	"context"
	"fmt"

	"tendfold/domain/farm"
	"tendfold/server"
	"tendfold/server/app"
	"tendfold/server/app/signin"
)

type personCmd struct {
	Add  personAddCmd  `cmd:"" help:"Add a person with a role."`
	Link personLinkCmd `cmd:"" help:"Make a link by which a person gets in: onto a phone, or to a password."`
}

type personAddCmd struct {
	dataFlags
	Name     string `arg:"" help:"Full name."`
	Role     string `help:"What the person does." enum:"administrator,manager,advisor,field-officer,caretaker,owner" required:""`
	Branch   string `help:"Id of the branch; all branches where left out." placeholder:"ID"`
	Phone    string `help:"Phone number." placeholder:"+237..."`
	Email    string `help:"E-mail; a member of staff signs in with it."`
	Language string `help:"Language of the person." enum:"en,fr" default:"en"`
	JSON     bool   `help:"Answer as JSON." name:"json"`
}

// Run adds the person.
func (c *personAddCmd) Run(ctx context.Context, std streams) error {
	return c.with(ctx, func(h *server.House) error {
		p, err := h.Office.AddPerson(ctx, app.System, farm.Person{
			Name: c.Name, Phone: c.Phone, Email: c.Email, Language: c.Language, Active: true,
			Grants: []farm.Grant{{Role: farm.Role(c.Role), BranchID: c.Branch}},
		})
		if err != nil {
			return err
		}
		return answer(std.Out, c.JSON, p, fmt.Sprintf("%s is %s. Next: tendfold person link %s", p.Name, p.ID, p.ID))
	})
}

type personLinkCmd struct {
	dataFlags
	Person    string `arg:"" help:"Id of the person."`
	For       string `help:"What the link opens: a phone, a password, or a password without the old code app." enum:"phone,password,reset" default:"phone"`
	PublicURL string `help:"How browsers reach the server." default:"http://localhost:8080" placeholder:"URL"`
	JSON      bool   `help:"Answer as JSON." name:"json"`
}

// Run prints the link; it works once, within 48 hours.
func (c *personLinkCmd) Run(ctx context.Context, std streams) error {
	return c.with(ctx, func(h *server.House) error {
		made, err := h.SignIn.MakeEnrolment(ctx, app.System, signin.MakeEnrolment{PersonID: c.Person, Purpose: signin.Purpose(c.For), Kind: signin.ByLink})
		if err != nil {
			return err
		}
		link := c.PublicURL + "/enrol#" + made.Secret
		return answer(std.Out, c.JSON, map[string]any{"link": link, "expires_at": made.Expires},
			fmt.Sprintf("%s\nIt works once, until %s. Give it to that person alone.", link, made.Expires.Format("2006-01-02 15:04 MST")))
	})
}
