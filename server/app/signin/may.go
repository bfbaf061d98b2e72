package signin

import (
	"slices"

	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/server/app"
)

// mayManage says whether the actor may make ways in for a person of their
// scope, end their sessions and revoke their phones. For staff that takes an
// administrator who holds that role wherever the person holds one: otherwise
// an administrator of one branch could become the firm's.
func mayManage(who app.Actor, p farm.Person) error {
	if who.System {
		return nil
	}
	staff := slices.DeleteFunc(slices.Clone(p.Grants), func(g farm.Grant) bool { return !g.Role.Staff() })
	if len(staff) == 0 {
		return who.Need(farm.Administrator, farm.Manager, farm.Advisor, farm.FieldOfficer)
	}
	if !covers(who.Grants, staff) {
		return domain.Forbidden("Only an administrator of all this person's branches may do this.")
	}
	return nil
}

// covers says whether the administrator's grants reach all of the others.
func covers(grants, others []farm.Grant) bool {
	return !slices.ContainsFunc(others, func(o farm.Grant) bool {
		return !slices.ContainsFunc(grants, func(g farm.Grant) bool {
			return g.Role == farm.Administrator && (g.BranchID == "" || g.BranchID == o.BranchID)
		})
	})
}
