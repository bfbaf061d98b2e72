package store

import (
	"strings"

	"tendfold/server/app"

	"gorm.io/gorm"
)

// farmsOf is the condition on the farms (aliased f) that a scope sees, and
// its parameters.
func (s *Store) farmsOf(sc app.Scope) (string, []any) {
	if sc.All {
		return "1 = 1", nil
	}
	var parts []string
	var args []any
	if len(sc.Branches) > 0 {
		cond, list := s.in("f.branch_id", sc.Branches)
		parts, args = append(parts, cond), append(args, list)
	}
	if sc.PersonFarms != "" {
		parts = append(parts, "f.id IN (SELECT farm_id FROM farm_people WHERE person_id = ?)")
		args = append(args, sc.PersonFarms)
	}
	if sc.Owner != "" {
		parts = append(parts, "f.client_id IN (SELECT id FROM clients WHERE owner_id = ?)")
		args = append(args, sc.Owner)
	}
	if len(parts) == 0 {
		return "1 = 0", nil
	}
	return "(" + strings.Join(parts, " OR ") + ")", args
}

// within keeps the rows whose farm the scope sees; column holds the farm's id.
func (s *Store) within(q *gorm.DB, sc app.Scope, column string) *gorm.DB {
	if sc.All {
		return q
	}
	cond, args := s.farmsOf(sc)
	return q.Where("EXISTS (SELECT 1 FROM farms f WHERE f.id = "+column+" AND "+cond+")", args...)
}
