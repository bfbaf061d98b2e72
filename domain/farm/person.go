package farm

import "slices"

// Role is what a person may do in Tendfold.
type Role string

// The roles, widest first.
const (
	Administrator Role = "administrator"
	Manager       Role = "manager"
	Advisor       Role = "advisor"
	FieldOfficer  Role = "field-officer"
	Caretaker     Role = "caretaker"
	Owner         Role = "owner"
)

// Staff says whether the role belongs to the firm's own people.
func (r Role) Staff() bool {
	return slices.Contains([]Role{Administrator, Manager, Advisor, FieldOfficer}, r)
}

// Grant gives a person a role in one branch, or in all when BranchID is "".
// Caretakers and owners have no branch: what they see follows from the farms
// they work on and the clients they sign in for.
type Grant struct {
	Role     Role   `json:"role"`
	BranchID string `json:"branch_id"`
}

// Person is anyone we know: staff, caretakers, owners, contacts. Phone is
// E.164, or as typed when PhoneFlag is set; a family may share one.
type Person struct {
	ID        string  `json:"id"`
	Name      string  `json:"name"`
	Phone     string  `json:"phone"`
	PhoneFlag bool    `json:"phone_flag,omitempty"` // kept, but no numbering plan has it
	Email     string  `json:"email,omitempty"`
	Language  string  `json:"language"` // en or fr
	Active    bool    `json:"active"`
	Grants    []Grant `json:"grants,omitempty"`
	Version   int     `json:"version"`
}

// Has says whether the person holds the role anywhere.
func (p Person) Has(r Role) bool {
	return slices.ContainsFunc(p.Grants, func(g Grant) bool { return g.Role == r })
}

// Work ties a caretaker (or another contact) to a farm. InCharge is the
// caretaker whose training opens the go-ahead.
type Work struct {
	FarmID   string `json:"farm_id"`
	PersonID string `json:"person_id"`
	InCharge bool   `json:"in_charge"`
	Since    string `json:"since,omitempty"`
}
